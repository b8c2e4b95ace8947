// The program in its worker: calls one after another, progress, stopping, starting again.
import { say, spoken } from "./say.js";
import { find, warn } from "./dom.js";

// Stopped is what a call ends with that was stopped, Ended one whose program ended.
export class Stopped extends Error {}
export class Ended extends Error {}

let worker = null;
let waiting = []; // calls, those that people wait for before those that they do not
let current = null;
let isReady = false;
let halt = 0; // timer of a stop that is not heard
let lives = 0; // of the program; a score is open in the life in which it was opened
let began = false; // the program has been ready once
let early = 0; // lives in a row that ended before they had done anything
let missed = 0; // beats that the worker did not answer, one after another
let watched = false; // its lock tells when it has come to an end
let quiet = null; // what says that the program is long about something
export let mostBytes = 64 << 20;

export const life = () => lives;
export const busy = () => current !== null || waiting.length > 0;

let readyNow;
export const ready = new Promise((resolve) => { readyNow = resolve; });

const unpack = (base64) => URL.createObjectURL(new Blob([Uint8Array.from(atob(base64), (c) => c.charCodeAt(0))], { type: "text/javascript" }));
let script = "";

// most lives in a row may end before they have done anything; then somebody is asked.
const mostEarly = 3;

export function start() {
  script ||= unpack(find("#worker").textContent.trim());
  lives++;
  isReady = watched = false;
  missed = 0;
  worker = new Worker(script);
  const mine = lives;
  worker.onmessage = ({ data }) => { if (mine === lives) hear(data, mine); };
  worker.onerror = (event) => { event.preventDefault(); if (mine === lives) ended(event.message); };
  worker.postMessage({ program: find("#program").textContent, sum: Number(find("#program").dataset.sum), lock: `deskpart ${crypto.randomUUID?.() ?? Math.random()}` });
}

function hear(said, mine) {
  missed = 0;
  quiet?.remove();
  quiet = null;
  if (said.ready) {
    isReady = began = true;
    mostBytes = said.mostBytes;
    readyNow();
    next();
  } else if (said.lock) {
    watch(said.lock, mine);
  } else if (said.progress) {
    const p = JSON.parse(said.progress);
    current?.progress?.({ ...p, files: said.files });
  } else if (said.ended !== undefined) {
    ended(said.ended);
  } else if (!said.beat) {
    settle(said);
  }
}

// watch waits for the lock that a worker holds as long as it lives: a worker that is
// ended from outside says nothing, but lets go of it.
function watch(lock, mine) {
  if (!navigator.locks) return;
  watched = true;
  navigator.locks.request(lock, () => { if (mine === lives) ended(""); }).catch(() => { if (mine === lives) watched = false; });
}

// beat asks the worker whether it is there, where nobody has heard of it. One without work
// that does not answer is gone, if no lock says otherwise: a busy machine is slow, too. At
// work it answers between parts; what it is silent about for long, people are asked about.
function beat() {
  if (!isReady || document.hidden) return;
  missed++;
  if (missed > 2 && !current && !watched) ended("");
  else if (missed === patience && current) quiet = warn(say("page.quiet"), { text: say("page.start-again"), action: () => ended("") });
  worker?.postMessage({ beat: true });
}

const patience = 10; // beats
setInterval(beat, 3000);

function settle(said) {
  clearTimeout(halt);
  early = 0;
  const call = current;
  current = null;
  if (said.stopped) call?.reject(new Stopped());
  else if (said.failed !== undefined) call?.reject(failure(JSON.parse(said.failed)));
  else call?.resolve({ value: JSON.parse(said.value), files: said.files });
  next();
}

// failure is what a call ends with that could not be done: its message is a line in the
// page's language, exact the English words behind it.
const failure = (told) => Object.assign(new Error(told.line), told);

// ended starts the program again when it has come to an end, which it should not. Whoever
// waits for a call is told; where nobody waits, the page says it.
function ended(why) {
  const call = current;
  end();
  if (!began) return warn(say("page.no-start", { why }));
  if (++early > mostEarly) warn(say("page.crashed-often"), { text: say("page.start-again"), action: () => { early = 0; start(); } });
  else start();
  if (call) call.reject(new Ended(say("page.crashed")));
  else if (early <= mostEarly) warn(say("page.crashed-idle"));
}

// end ends the program and whatever is timed for it.
function end() {
  worker?.terminate();
  clearTimeout(halt);
  quiet?.remove();
  quiet = null;
  current = null;
  isReady = false;
  const isOld = (w) => w.request.score || w.request.work; // of a score that is not open any more
  for (const w of waiting.filter(isOld)) w.reject(new Stopped());
  waiting = waiting.filter((w) => !isOld(w));
  lives++; // what it may still say is not heard
}

// mishap says what a call that failed came to. What somebody stopped is not said; where the
// program had ended, again is one click away.
export function mishap(error, again) {
  if (error instanceof Stopped) return;
  warn(error.message, error instanceof Ended && again ? { text: say("page.go-on"), action: again } : null, error.exact);
}

function next() {
  if (!isReady || current || !waiting.length) return;
  current = waiting.shift();
  const { call, request, files } = current;
  worker.postMessage({ call, request, files }, files.map(([, bytes]) => bytes.buffer));
}

// ask calls the program. files are [name, Uint8Array], which are handed over. Calls that
// nobody waits for come after all others.
export function ask(call, request = {}, { files = [], progress = null, later = false } = {}) {
  return new Promise((resolve, reject) => {
    const entry = { call, request: { ...request, speak: spoken() }, files, progress, later, resolve, reject };
    const at = later ? -1 : waiting.findIndex((w) => w.later);
    if (at < 0) waiting.push(entry);
    else waiting.splice(at, 0, entry);
    next();
  });
}

// drop takes back calls that wait and that nobody waits for.
export function drop() {
  const dropped = waiting.filter((w) => w.later);
  waiting = waiting.filter((w) => !w.later);
  dropped.forEach((w) => w.reject(new Stopped()));
}

let stops = 0;

// halting gives a check for work of many calls: it ends the work where somebody has
// stopped it between two of them.
export function halting() {
  const before = stops;
  return () => { if (stops !== before) throw new Stopped(); };
}

// stop ends what is being done. A program in the middle of a part does not hear it, and
// is ended and started anew.
export function stop() {
  stops++;
  drop();
  if (!current) return;
  worker.postMessage({ stop: true });
  clearTimeout(halt);
  halt = setTimeout(() => {
    const call = current;
    end();
    call?.reject(new Stopped());
    start();
  }, 300);
}
