// A refused form comes back as a page of its own, a busy server says so: shown like any answer.
document.addEventListener("htmx:beforeSwap", (event) => {
  if ([422, 503].includes(event.detail.xhr.status)) {
    event.detail.shouldSwap = true;
    event.detail.isError = false;
  }
});

// Nothing waits for ever: where the program does not answer, that is said.
for (const name of ["htmx:responseError", "htmx:sendError"]) {
  document.addEventListener(name, () => {
    for (const place of document.querySelectorAll(".working")) {
      place.className = "refused";
      place.textContent =
        "■ The program behind this page does not answer. Where it still runs, look again.";
    }
  });
}

// Where a figure comes from is shown over the page, figure by figure, and closed by Escape or its
// button; without this script, or where the program says no, the figure's own page is gone to.
const trail = [];
async function tell(address) {
  const answer = await fetch(address, { headers: { "HX-Request": "true" } }).catch(() => null);
  if (!answer?.ok) return location.assign(address);
  const over = document.getElementById("working");
  document.getElementById("working-told").innerHTML = await answer.text();
  document.getElementById("working-back").hidden = trail.length < 2;
  if (!over.open) over.showModal();
  over.scrollTop = 0;
  document.getElementById("working-title").focus();
}
document.addEventListener("click", (event) => {
  const over = document.getElementById("working");
  if (!over || event.button || event.ctrlKey || event.metaKey || event.shiftKey) return;
  const figure = event.target.closest?.("a.figure, a.to-why");
  if (figure) {
    event.preventDefault();
    if (!over.open) trail.length = 0;
    trail.push(figure.getAttribute("href"));
    tell(trail.at(-1));
  } else if (event.target.id === "working-back") {
    trail.pop();
    tell(trail.at(-1));
  }
});

// What has come of a shop is said to whoever hears the page, and whoever stood on a part of the
// drawing with the keyboard stands there again: the part itself is a new one.
let stood = null;
document.addEventListener("htmx:beforeSwap", (event) => {
  if (event.target.id === "shop") stood = document.activeElement?.getAttribute("href") ?? null;
});
document.addEventListener("htmx:afterSettle", () => {
  const aloud = document.getElementById("aloud");
  const told = document.querySelector("#shop .headline");
  const waits = document.querySelector("#shop .working") ? "The answer is being worked out." : "";
  const words = told ? told.textContent.trim() : waits; // a refusal is an alert of its own
  if (aloud && aloud.textContent !== words) aloud.textContent = words;
  if (!stood) return;
  const places = document.querySelectorAll(`#shop a[href="${CSS.escape(stood)}"]`);
  [...places].find((place) => place.getClientRects().length)?.focus({ preventScroll: true });
  stood = null;
});

// A slider tells what it stands at, and which plan is best there; the answer knows the stretches.
document.addEventListener("input", (event) => {
  const form = event.target.closest?.(".turn");
  if (!form) return;
  const at = Number(event.target.value);
  const told = `${Number(at.toPrecision(3))} ${form.dataset.unit}`.trim();
  form.querySelector(".turned").textContent = told;
  form.classList.add("moved");
  for (const zone of form.querySelectorAll(".zones li")) {
    const { from, to } = zone.dataset; // the outermost have one end only
    zone.classList.toggle("under", !(at < Number(from)) && !(at > Number(to)));
  }
});

// On paper nothing can be opened: what is folded away for reading is unfolded while it is printed.
const folded = new Set();
addEventListener("beforeprint", () => {
  for (const part of document.querySelectorAll("details.on-paper:not([open])")) {
    part.open = true;
    folded.add(part);
  }
});
addEventListener("afterprint", () => {
  for (const part of folded) part.open = false;
  folded.clear();
});

// A link to a field of a form opens what it is folded into and goes there.
function toField() {
  const name = location.hash.slice(1);
  if (!/^[A-Za-z0-9-]+$/.test(name)) return;
  const found = document.getElementById(name) ?? document.querySelector(`form [id^="${name}-"]:is(input, select, textarea)`)
    ?? document.getElementById(name.replace(/^motor(\d+)-.*/, "line$1"));
  if (!found?.matches("input, select, textarea")) return;
  for (let at = found.parentElement; at; at = at.parentElement) if (at.matches("details")) at.open = true;
  found.focus();
  found.scrollIntoView({ block: "center" });
}
addEventListener("hashchange", toField);
toField();
