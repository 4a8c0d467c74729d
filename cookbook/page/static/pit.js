// At the pit: what is tapped goes into a queue that outlives the net, and is sent once, in order, by its own name.
import { mended, name, post } from "./page.js";

// The queue: in the browser's own store; in memory alone where there is none.
const memory = [];
let kept = null;

function store() {
  kept ??= new Promise((done) => {
    try {
      const asked = indexedDB.open("cookbook", 1);
      asked.onupgradeneeded = () => asked.result.createObjectStore("lines", { keyPath: "number", autoIncrement: true });
      asked.onsuccess = () => done(asked.result);
      asked.onerror = () => done(null);
    } catch { done(null); }
  });
  return kept;
}

async function within(mode, act) {
  const base = await store();
  if (!base) return null;
  return new Promise((done, failed) => {
    const change = base.transaction("lines", mode, { durability: "strict" });
    const asked = act(change.objectStore("lines"));
    change.oncomplete = () => done(asked.result);
    change.onerror = change.onabort = () => failed(change.error);
  });
}

const all = async () => (await within("readonly", (lines) => lines.getAll())) ?? [...memory];

async function keep(line) {
  if ((await within("readwrite", (lines) => lines.add(line))) === null) {
    memory.push({ ...line, number: (memory.at(-1)?.number ?? 0) + 1 });
  }
}

async function drop(number) {
  if ((await within("readwrite", (lines) => lines.delete(number))) === null) {
    const place = memory.findIndex((line) => line.number === number);
    if (place >= 0) memory.splice(place, 1);
  }
}

// Sending: one line after the other; a net that drops stops it, and it begins again by itself.
let sending = false, wait = 1000, due;

function later() {
  clearTimeout(due);
  due = setTimeout(send, wait);
  wait = Math.min(wait * 2, 15000);
}

async function send() {
  if (sending) return;
  sending = true;
  try {
    for (let lines = await all(); lines.length; lines = await all()) {
      const line = lines.find((one) => !one.refused);
      if (!line) break;
      const age = String(Math.max(0, Date.now() - line.at));
      let told;
      try {
        told = await post(line.to, { ...line.fields, id: line.id, age });
      } catch {
        say(`${many(lines.length)} for the net`, true);
        later();
        return;
      }
      if (told.ok) {
        wait = 1000;
        await drop(line.number);
        say([told.said, ...(told.warnings || [])].join("; "));
      } else if ([400, 404, 409, 413, 422].includes(told.status)) {
        await drop(line.number);
        say(`not kept: ${line.words} (${told.error})`, true);
      } else if (told.status === 401) {
        say(`${many(lines.length)}: pair this device again`, true);
        later();
        return;
      } else {
        say(`${many(lines.length)}: ${told.error || "the page is busy"}`, true);
        later();
        return;
      }
    }
  } finally {
    sending = false;
  }
}

const many = (number) => (number === 1 ? "1 line waits" : `${number} lines wait`);

function say(words, waits = false) {
  const line = document.getElementById("said");
  if (!line) return;
  line.textContent = words;
  line.parentElement.classList.toggle("waits", waits);
}

// The screen stays on: by the browser's own lock where it gives one, else by a silent film that loops.
let film = null;

export async function stayAwake() {
  let kept = false;
  try {
    if ("wakeLock" in navigator) { await navigator.wakeLock.request("screen"); kept = true; }
  } catch { /* not on this page: the film */ }
  if (!kept) {
    if (!film) {
      film = document.createElement("video");
      Object.assign(film, { src: "/still.mp4", muted: true, loop: true, playsInline: true, hidden: false, tabIndex: -1 });
      film.setAttribute("playsinline", "");
      film.setAttribute("aria-hidden", "true");
      Object.assign(film.style, { position: "fixed", right: "0", bottom: "0", width: "2px", height: "2px", opacity: ".01", pointerEvents: "none" });
      document.documentElement.append(film);
    }
    try { await film.play(); kept = true; } catch { /* this phone refuses */ }
  }
  const said = document.getElementById("awake");
  if (said) said.textContent = kept ? "The screen stays on while this page is open." : "This phone lets the screen go off; its own settings can keep it on.";
  return kept;
}

// The page of one cook.
let source = null, clocks = null;

function cook() {
  source?.close();
  clearInterval(clocks);
  const form = document.querySelector("form[data-cook]"), top = document.getElementById("state");
  if (!top) return;
  listen(top);
  clocks = setInterval(() => minutes(), 15000);
  minutes();
  if (!form) return;
  pad(form);
  form.addEventListener("submit", (event) => { event.preventDefault(); tapped(form, event.submitter); });
  document.querySelector("form[data-undo]").addEventListener("submit", (event) => { event.preventDefault(); undo(event.target); });
  if (document.getElementById("awake")) document.addEventListener("pointerdown", () => stayAwake(), { once: true });
  if (film || document.body.dataset.begun) stayAwake();
  all().then((lines) => { if (lines.length) { say(many(lines.length), true); send(); } });
}

async function tapped(form, button) {
  const fields = { send: button?.value || "reading core" };
  const piece = form.querySelector("input[name=piece]:checked");
  if (piece) fields.piece = piece.value;
  const ago = form.querySelector("input[name=ago]:checked");
  const number = form.querySelector("#number"), words = form.querySelector("#words");
  let said = fields.send.replace(/^\w+ ?/, "");
  if (fields.send.startsWith("reading")) {
    fields.number = number.value.trim();
    fields.scale = form.querySelector("input[name=scale]:checked").value;
    if (!/\d/.test(fields.number)) { say("type the number first"); number.focus(); return; }
    said += ` ${fields.number}`;
    number.value = "";
  } else if (fields.send === "line") {
    fields.words = said = words.value.trim();
    if (!said) { say("say something first"); words.focus(); return; }
    words.value = "";
  }
  if (ago && ago.value !== "0") {
    fields.ago = ago.value;
    said += `, ${ago.value} min ago`;
    form.querySelector("input[name=ago]").checked = true;
    form.querySelector("details.when").open = false;
  }
  navigator.vibrate?.(15);
  await keep({ to: form.getAttribute("action"), id: name(), at: Date.now(), fields, words: said });
  say(`${said} …`);
  wait = 1000;
  send();
}

let taking = null;

async function undo(form) {
  const waiting = (await all()).at(-1);
  if (waiting && !sending) {
    await drop(waiting.number);
    say(`taken back: ${waiting.words}`);
    return;
  }
  let told;
  taking ??= name();
  try {
    told = await post(form.getAttribute("action"), { id: taking });
  } catch {
    say("no net to take it back: tap again", true);
    return;
  }
  taking = null;
  say(told.ok ? told.said : told.error, !told.ok);
  if (told.ok && told.gone) location.assign(told.to);
}

function pad(form) {
  const keys = form.querySelector(".keys"), number = form.querySelector("#number");
  if (!keys) return;
  keys.hidden = false;
  number.inputMode = "none";
  keys.addEventListener("click", (event) => {
    const key = event.target.closest("[data-key]")?.dataset.key;
    if (!key) return;
    if (key === "back") number.value = number.value.slice(0, -1);
    else if (number.value.length < 6 && !(key === "." && number.value.includes("."))) number.value += key;
  });
}

function listen(top) {
  const refresh = async () => {
    const answer = await fetch(top.dataset.state).catch(() => null);
    if (!answer || !answer.ok || answer.redirected) return;
    const told = new DOMParser().parseFromString(await answer.text(), "text/html");
    const pad = document.getElementById("reading"), stood = pad?.getBoundingClientRect().top;
    for (const part of ["state", "below"]) {
      const here = document.getElementById(part), open = here.querySelector("details")?.open;
      here.replaceChildren(...told.getElementById(part).childNodes);
      const details = here.querySelector("details");
      if (details && open) details.open = true;
    }
    minutes();
    // whoever is tapping keeps the pad under the thumb
    if (pad && stood < innerHeight * .6) scrollBy({ top: pad.getBoundingClientRect().top - stood, behavior: "instant" });
  };
  source = new EventSource(top.dataset.changes);
  source.addEventListener("changed", refresh);
  let dropped = false;
  source.onerror = () => { dropped = true; };
  source.onopen = () => { if (dropped) { dropped = false; refresh(); send(); } };
  let looked = Date.now();
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState !== "visible") return;
    if (Date.now() - looked > 5000) refresh();
    looked = Date.now();
    send();
    if (film || "wakeLock" in navigator) stayAwake();
  });
  setInterval(() => { if (document.visibilityState === "visible") refresh(); }, 60000);
}

function minutes() {
  for (const one of document.querySelectorAll("time[data-since]")) {
    const gone = Math.max(0, Math.round((Date.now() - Date.parse(one.dateTime)) / 60000));
    one.textContent = gone < 60 ? `${gone} min ago` : `${Math.floor(gone / 60)} h ${gone % 60} min ago`;
  }
}

// The tap that starts the cook also keeps the screen on, so the next page is put in the place of this one.
let shown = location.pathname;
const start = document.querySelector("form[data-start]");
start?.addEventListener("submit", async (event) => {
  event.preventDefault();
  stayAwake();
  const button = start.querySelector("button");
  if (button.disabled) return;
  button.disabled = true;
  try {
    const told = await post(start.getAttribute("action"), new FormData(start));
    if (!told.ok) throw new Error(mended(told));
    const next = new DOMParser().parseFromString(await (await fetch(told.to)).text(), "text/html");
    history.pushState(null, "", told.to);
    shown = location.pathname;
    document.title = next.title;
    document.body.replaceWith(next.body);
    scrollTo(0, 0);
    cook();
    stayAwake();
  } catch (fault) {
    button.disabled = false;
    const line = start.querySelector(".fault") || Object.assign(document.createElement("p"), { className: "fault" });
    line.setAttribute("role", "alert");
    line.textContent = fault.message === "Failed to fetch" ? "There is no net just now; tap again." : fault.message;
    button.parentElement.after(line);
  }
});
addEventListener("popstate", () => { if (location.pathname !== shown) location.reload(); });
addEventListener("online", () => { wait = 1000; send(); });
cook();
