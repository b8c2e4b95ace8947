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
export let mostBytes = 64 << 20;

export const life = () => lives;
export const busy = () => current !== null || waiting.length > 0;

let readyNow;
export const ready = new Promise((resolve) => { readyNow = resolve; });

const unpack = (base64) => URL.createObjectURL(new Blob([Uint8Array.from(atob(base64), (c) => c.charCodeAt(0))], { type: "text/javascript" }));
let script = "";

export function start() {
  script ||= unpack(find("#worker").textContent.trim());
  lives++;
  isReady = false;
  worker = new Worker(script);
  worker.onmessage = ({ data }) => hear(data);
  worker.onerror = (event) => { event.preventDefault(); ended(); };
  worker.postMessage({ program: find("#program").textContent.trim() });
}

function hear(said) {
  if (said.ready) {
    isReady = true;
    mostBytes = said.mostBytes;
    readyNow();
    next();
  } else if (said.progress) {
    const p = JSON.parse(said.progress);
    current?.progress?.({ ...p, files: said.files });
  } else if (said.ended !== undefined) {
    ended();
  } else {
    settle(said);
  }
}

function settle(said) {
  clearTimeout(halt);
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

// ended starts the program again when it has come to an end, which it should not.
function ended() {
  worker?.terminate();
  clearTimeout(halt);
  const call = current;
  current = null;
  warn(say("page.crashed"));
  call?.reject(new Ended());
  start();
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

// stop ends what is being done. A program that does not hear it is ended.
export function stop() {
  drop();
  if (!current) return;
  worker.postMessage({ stop: true });
  clearTimeout(halt);
  halt = setTimeout(() => {
    const call = current;
    current = null;
    worker.terminate();
    call?.reject(new Stopped());
    start();
  }, 3000);
}
