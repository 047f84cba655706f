// A shop in a link: the text of its file, compressed (deflate, RFC 1951), as base64url (RFC 4648)
// behind the # of an address, which a browser sends to no server.
const MARK = "#shop=";
const MOST_BYTES = 1_000_000;
const MOST_LINK = 1_500_000;

async function through(bytes, stream, most = Infinity) {
  const parts = [];
  let length = 0;
  for await (const part of pieces(new Blob([bytes]).stream().pipeThrough(stream))) {
    length += part.length;
    if (length > most) throw new Error("it is larger than any shop file");
    parts.push(part);
  }
  return new Uint8Array(await new Blob(parts).arrayBuffer());
}

async function* pieces(stream) {
  const reader = stream.getReader();
  try {
    for (let next = await reader.read(); !next.done; next = await reader.read()) yield next.value;
  } finally {
    reader.cancel().catch(() => {});
  }
}

function toLetters(bytes) {
  let letters = "";
  for (let at = 0; at < bytes.length; at += 32768) {
    letters += String.fromCharCode(...bytes.subarray(at, at + 32768));
  }
  return btoa(letters).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
}

function fromLetters(letters) {
  if (!/^[A-Za-z0-9_-]+$/.test(letters)) throw new Error("letters are missing or do not belong");
  const raw = atob(letters.replaceAll("-", "+").replaceAll("_", "/"));
  return Uint8Array.from(raw, (letter) => letter.charCodeAt(0));
}

export async function linkOf(text, origin) {
  const bytes = new TextEncoder().encode(text);
  const small = await through(bytes, new CompressionStream("deflate-raw"));
  return `${origin}/link${MARK}${toLetters(small)}`;
}

export async function textOf(link) {
  const at = link.indexOf(MARK);
  if (at < 0) throw new Error("there is no shop in it");
  if (link.length > MOST_LINK) throw new Error("it is larger than any shop file");
  const small = fromLetters(link.slice(at + MARK.length).trim());
  const bytes = await through(small, new DecompressionStream("deflate-raw"), MOST_BYTES);
  return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
}

const byId = (id) => document.getElementById(id);

async function share(button) {
  const look = byId("share-look");
  byId("shared").hidden = false;
  try {
    const answer = await fetch(button.dataset.shop);
    if (!answer.ok) throw new Error("the program behind this page does not answer");
    const link = await linkOf(await answer.text(), location.origin);
    byId("share-link").value = link;
    look.textContent =
      `${link.length} letters. Whoever has this program running follows it, or pastes it there ` +
      "under “Open a shop from a link”. The shop stands behind the # and goes to no server on " +
      "the way; whoever gets the link can read it.";
    byId("share-link").select();
  } catch (fault) {
    look.textContent = `■ No link was made: ${fault.message}.`;
  }
}

let turns = 0;

async function unpack(link) {
  const turn = ++turns;
  const told = byId("link-told");
  byId("link-open").hidden = true;
  try {
    const text = await textOf(link);
    if (turn !== turns) return;
    byId("link-text").value = toLetters(new TextEncoder().encode(text));
    byId("link-shown").textContent = text;
    told.textContent =
      `The link holds a file of ${text.trimEnd().split("\n").length} lines. ` +
      "Nothing of it has left your browser yet.";
    byId("link-open").hidden = false;
  } catch (fault) {
    if (turn !== turns) return;
    // what the browser says of a broken stream or of strange letters is no owner's language
    const ours = fault.constructor === Error;
    const why = ours ? fault.message : "a part of it is missing or changed; ask for it once more";
    told.textContent = `■ This link cannot be opened: ${why}.`;
  }
}

function arrived() {
  if (!location.hash.startsWith(MARK)) return;
  const link = location.href;
  history.replaceState(null, "", location.pathname);
  unpack(link);
}

const button = byId("share");
if (button) {
  button.hidden = false;
  button.addEventListener("click", () => share(button));
}
const pasted = byId("link-pasted");
if (pasted) {
  byId("link-paste").hidden = false;
  pasted.addEventListener("input", () => pasted.value.trim() && unpack(pasted.value));
  addEventListener("hashchange", arrived);
  arrived();
}
