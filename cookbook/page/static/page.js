// What every page shares: asking the server, scaling as one types, the text's faults beside their lines.

export const token = () => document.querySelector("meta[name=token]").content;

export async function post(address, fields, again = true, patience = 10000) {
  const body = fields instanceof FormData ? fields : new FormData();
  if (!(fields instanceof FormData)) for (const [name, value] of Object.entries(fields)) body.append(name, value);
  const stop = new AbortController();
  const late = setTimeout(() => stop.abort(), patience);
  let answer;
  try {
    answer = await fetch(address, { method: "POST", body, signal: stop.signal, redirect: "error",
      headers: { "x-page": "1", "x-token": token() } });
  } finally {
    clearTimeout(late);
  }
  if (answer.status === 403 && again) {
    const fresh = await fetch("/token");
    if (fresh.ok && !fresh.redirected) {
      document.querySelector("meta[name=token]").content = (await fresh.json()).token;
      for (const field of document.querySelectorAll("input[name=token]")) field.value = token();
      return post(address, fields, false, patience);
    }
  }
  const kind = answer.headers.get("content-type") || "";
  const told = kind.includes("json") ? await answer.json() : { error: await answer.text() };
  return { ok: answer.ok, status: answer.status, ...told };
}

export function name() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

function soon(what, wait) {
  let due;
  return () => { clearTimeout(due); due = setTimeout(what, wait); };
}

// Scaling: the newest answer wins, and what is typed stays in the address, to be kept as a bookmark.
function live(form) {
  const into = document.getElementById(form.dataset.into);
  let asked = 0;
  const ask = async () => {
    const mine = ++asked;
    const said = new URLSearchParams([...new FormData(form)].filter(([, value]) => value.trim()));
    const answer = await fetch(`${form.dataset.live}?${said}`).catch(() => null);
    if (!answer || !answer.ok || mine !== asked) return;
    into.innerHTML = await answer.text();
    history.replaceState(null, "", said.size ? `?${said}` : location.pathname);
    for (const link of document.querySelectorAll("a[data-sized]")) link.search = said.toString();
  };
  form.addEventListener("input", soon(ask, 60));
  form.addEventListener("submit", (event) => { event.preventDefault(); ask(); });
}

// A recipe's text: numbered lines, faults beside them while one writes.
function editor(form) {
  const text = form.querySelector("#text"), gutter = form.querySelector(".gutter"), list = form.querySelector("#problems");
  const worst = new Map();
  const number = () => {
    const lines = text.value.split("\n").length;
    text.rows = lines + 1;
    gutter.replaceChildren();
    for (let line = 1; line <= lines; line++) {
      const mark = document.createElement("span");
      mark.textContent = line;
      if (worst.has(line)) mark.className = worst.get(line);
      gutter.append(mark, "\n");
    }
  };
  const show = (problems) => {
    worst.clear();
    const shown = document.createElement("ol");
    shown.className = "problems";
    for (const one of problems) {
      const item = document.createElement("li"), words = document.createElement("span");
      item.className = one.severity;
      if (one.line) {
        const link = document.createElement("a");
        link.href = "#text";
        link.textContent = `line ${one.line}`;
        link.dataset.line = one.line;
        link.dataset.column = one.column;
        item.append(link);
        if (worst.get(one.line) !== "error") worst.set(one.line, one.severity);
      }
      words.textContent = mended({ error: one.message, mend: one.mend });
      item.append(words);
      shown.append(item);
    }
    if (!problems.length) shown.innerHTML = '<li class="fine">Every line can be read.</li>';
    list.replaceChildren(shown);
    number();
    beside(shown);
  };
  const beside = (shown) => {
    if (!matchMedia("(min-width: 62rem)").matches || form.querySelector(".both")) return;
    shown.classList.add("beside");
    const step = parseFloat(getComputedStyle(text).lineHeight);
    let free = 0;
    for (const item of shown.children) {
      const line = Number(item.querySelector("a")?.dataset.line || 1);
      const top = Math.max(free, (line - 1) * step + 8);
      item.style.top = `${top}px`;
      free = top + item.offsetHeight + 6;
    }
    list.style.minHeight = `${free}px`;
  };
  const check = async () => {
    if (!form.dataset.check) return;
    const told = await post(form.dataset.check, { text: text.value }).catch(() => null);
    if (told && told.problems) show(told.problems);
  };
  text.addEventListener("input", () => number());
  text.addEventListener("input", soon(check, 250));
  list.addEventListener("click", (event) => {
    const link = event.target.closest("a[data-line]");
    if (!link) return;
    event.preventDefault();
    const before = text.value.split("\n").slice(0, link.dataset.line - 1).reduce((sum, line) => sum + line.length + 1, 0);
    const at = before + Math.max(0, link.dataset.column - 1);
    text.focus();
    text.setSelectionRange(at, at);
  });
  let sent = false;
  const begun = text.value;
  form.addEventListener("submit", () => { sent = true; });
  addEventListener("beforeunload", (event) => { if (!sent && text.value !== begun) event.preventDefault(); });
  number();
  check();
}

// Ticks of a list stay on this device, and come back with the same day's list.
function ticks(list) {
  const key = `ticks ${list.dataset.ticks}`;
  let ticked;
  try { ticked = new Set(JSON.parse(localStorage.getItem(key) || "[]")); } catch { return; }
  for (const box of list.querySelectorAll("input")) box.checked = ticked.has(box.value);
  list.addEventListener("change", (event) => {
    if (event.target.checked) ticked.add(event.target.value); else ticked.delete(event.target.value);
    try { localStorage.setItem(key, JSON.stringify([...ticked])); } catch { /* this page alone remembers */ }
  });
}

// What is being worked out is asked for again until it is there; meanwhile the page says how far it is. Who is on the
// way to another page is not called back by it.
let left = -Infinity;
addEventListener("beforeunload", () => { left = performance.now(); });
async function late(line) {
  const answer = await fetch(location.href).catch(() => null);
  const typing = document.activeElement?.matches("input, textarea");
  const leaving = performance.now() - left < 10000;
  if (answer && answer.status !== 202 && !typing && !leaving) { location.reload(); return; }
  if (answer && answer.status === 202) {
    const far = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector("[data-late] span");
    if (far) line.querySelector("span").textContent = far.textContent;
  }
  setTimeout(late, 1000, line);
}

for (const line of document.querySelectorAll("[data-late]")) setTimeout(late, 500, line);
for (const list of document.querySelectorAll("[data-ticks]")) ticks(list);
for (const form of document.querySelectorAll("form[data-live]")) live(form);
for (const form of document.querySelectorAll(".editor")) editor(form);

const pairing = document.querySelector("form[data-pair]");
if (pairing && /^#[A-Z0-9]{8}$/i.test(location.hash)) {
  pairing.querySelector("#code").value = location.hash.slice(1).toUpperCase();
  history.replaceState(null, "", location.pathname);
}

// A guest's scores are sent under one name of the phone's own, however often the page is opened.
const guest = document.querySelector("form[data-guest]");
if (guest) {
  const field = guest.querySelector("input[name=id]");
  try {
    const own = localStorage.getItem(location.pathname) || name();
    localStorage.setItem(location.pathname, own);
    field.value = own;
  } catch { /* without a store the page's own name counts */ }
}

export const mended = ({ error, mend }) =>
  mend ? `${error}${/[?.]$/.test(error) ? "" : "."} ${mend[0].toUpperCase()}${mend.slice(1)}` : error;

// A form that says so is sent without leaving the page: without a net nothing of it is lost, and it counts once.
function tell(form, words) {
  const line = form.querySelector(".fault") || Object.assign(document.createElement("p"), { className: "fault" });
  line.setAttribute("role", "alert");
  line.textContent = words;
  form.prepend(line);
}

document.addEventListener("submit", async (event) => {
  const form = event.target, button = event.submitter;
  if (!form.matches("form[data-send]")) return;
  event.preventDefault();
  if (form.dataset.busy) return;
  form.dataset.busy = "yes";
  form.dataset.id ||= name();
  const fields = new FormData(form);
  if (button?.name) fields.set(button.name, button.value);
  fields.set("id", form.dataset.id);
  try {
    const told = await post(form.getAttribute("action"), fields, true, form.enctype.startsWith("multipart") ? 180000 : 10000);
    delete form.dataset.id;
    if (!told.ok) return tell(form, mended(told));
    sessionStorage.setItem("said", [told.said, ...(told.warnings || [])].filter(Boolean).join("; "));
    if (new URL(told.to, location).pathname === location.pathname) location.reload(); else location.assign(told.to);
  } catch {
    tell(form, "There is no net just now. Nothing is lost: tap again.");
  } finally {
    delete form.dataset.busy;
  }
});

// What was said of it stands on the page that comes next.
try {
  const said = sessionStorage.getItem("said"), head = document.querySelector("main h1");
  sessionStorage.removeItem("said");
  if (said && head) {
    const line = Object.assign(document.createElement("p"), { className: "kept", textContent: said });
    line.setAttribute("role", "status");
    head.after(line);
  }
} catch { /* without a store it goes unsaid */ }

// A form that is sent twice by a double tap is sent once.
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (event.defaultPrevented || form.method !== "post") return;
  if (form.dataset.sent && Date.now() - form.dataset.sent < 3000) event.preventDefault();
  form.dataset.sent = Date.now();
});
addEventListener("pageshow", () => { for (const form of document.forms) delete form.dataset.sent; });
