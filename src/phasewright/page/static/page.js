// A refused form comes back as a page of its own; it is shown like any other answer.
document.addEventListener("htmx:beforeSwap", (event) => {
  if (event.detail.xhr.status === 422) {
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
