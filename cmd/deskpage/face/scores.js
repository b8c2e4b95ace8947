// The scores that are open: reading files, who plays what, what has been made of them.
import { say } from "./say.js";
import { warn, tell, stem } from "./dom.js";
import { ask, drop, halting, life, mishap, mostBytes, ready, Ended, Stopped } from "./program.js";
import { settings, unsaved } from "./store.js";

export const scores = [];

// noDesks is what nobody has asked for beside the players of the score.
const noDesks = { share: [], percussionists: 0, editions: [], substitutes: false, choir: "" };
let chosen = null;
const listeners = [];

export const score = () => chosen;
export const single = () => (chosen?.members ? null : chosen); // not a work of several

// savedName names the files that are saved of a score.
export const savedName = (one) => (one.members ? one.title : stem(one.path)).replace(/[\\/:*?"<>|\p{Cc}]/gu, " ").replace(/\s+/g, " ").trim() || "deskpart";
export const onChange = (f) => listeners.push(f);
const changed = () => listeners.forEach((f) => f());

export function choose(one) {
  chosen = one;
  changed();
}

const million = (bytes) => Math.ceil(bytes / 1e6);

// read reads files, but for a giant, which would take the browser's memory.
export async function readFiles(files) {
  await ready;
  const taken = [];
  for (const file of files) {
    if (file.size > mostBytes) warn(say("page.giant", { file: file.name, size: million(file.size), most: million(mostBytes) }));
    else {
      try {
        taken.push([file.path || file.webkitRelativePath || file.name, new Uint8Array(await file.arrayBuffer())]);
      } catch {
        warn(say("page.unreadable", { file: file.name }));
      }
    }
  }
  return taken;
}

// open opens files as scores and says of every one that was refused why. What ends it in
// the middle leaves the scores that are open by then, and an error that knows the rest.
export async function open(files) {
  const before = scores.length;
  const check = halting();
  let first = null;
  let failure = null;
  for (const [at, file] of files.entries()) {
    try {
      check();
      if (files.length > 1) tell(say("page.part-of", { part: file.name, n: at + 1, of: files.length }));
      for (const bytes of await readFiles([file])) first = await openOne(file, bytes) ?? first;
    } catch (error) {
      failure = Object.assign(error, { rest: files.slice(at) });
      break;
    }
  }
  if (first) {
    tell(scores.length > before ? say("page.opened", { n: scores.filter((s) => !s.members).length, title: first.title || first.path }) : say("page.open-already", { file: first.path }));
    choose(first);
    await seat(first);
  }
  if (failure) throw failure;
  return first;
}

// openOne opens one file, unless it is open, and says which score is to be looked at.
async function openOne(source, bytes) {
  const sum = sumOfFile(bytes[1]);
  const open = scores.find((s) => s.sum === sum && s.file === bytes[0]);
  if (open) return scores.find((s) => s.members?.includes(open)) ?? open;
  const file = bytes[0];
  const { value } = await ask("open", {}, { files: [bytes] });
  value.rejected.forEach((r) => warn(r.line, null, r.exact));
  const found = value.scores.map((said) => ({ ...said, life: life(), source, file, sum, plan: [], input: "auto", desks: { ...noDesks }, seats: [], names: new Map(), undo: [], made: new Map(), drawn: new Map() }));
  scores.push(...found);
  const works = value.works.map((w) => workOf(w.scores.map((id) => found.find((s) => s.score === id)), w.title, w.titles));
  scores.push(...works);
  return works[0] ?? found[0];
}

// sumOfFile tells a file from another of the same name (FNV-1a over its length and bytes).
function sumOfFile(bytes) {
  let sum = 0x811c9dc5 ^ bytes.length;
  for (let i = 0; i < bytes.length; i++) sum = Math.imul(sum ^ bytes[i], 0x01000193);
  return sum >>> 0;
}

export function close(one) {
  scores.splice(scores.indexOf(one), 1);
  unsaved.done(one);
  for (const work of scores.filter((s) => s.members?.includes(one))) {
    if (work.members.some((m) => m !== one)) without(work, one);
    else close(work);
  }
  if (!one.members && one.life === life()) ask("close", { score: one.score });
  if (chosen === one) choose(scores[0] ?? null);
  if (chosen && !chosen.seats.length) seat(chosen);
  else changed();
}

// requestFor is what a call about a score begins with; a score of an earlier life of the
// program is opened again.
async function requestFor(one) {
  if (one.members) {
    const members = [];
    for (const member of one.members) members.push((await requestFor(member)).score);
    return { work: members, ...one.asked, settings: settingsFor(one) };
  }
  if (one.life !== life()) {
    one.opening ??= reopen(one).finally(() => { one.opening = null; });
    await one.opening;
  }
  return { score: one.score, settings: settingsFor(one) };
}

async function reopen(one) {
  const [bytes] = await readFiles([one.source]);
  const { value } = await ask("open", {}, { files: [bytes] });
  one.score = value.scores.find((s) => s.path === one.path)?.score;
  one.life = life();
}

export const settingsFor = (one) => ({
  language: settings.language, level: settings.level, input: one.input, players: settings.players || one.shared === true, cues: settings.cues,
  max_signature: settings.signature, rest_bars: settings.restBars, readable: settings.readable, skip_tacet: settings.skipTacet, ...one.desks,
  without_signature: settings.without.split(",").map((w) => w.trim()).filter(Boolean), plan: one.plan,
  paper: settings.paper, large: settings.large, one_sided: settings.oneSided,
});

export async function about(one, call, more = {}, options = {}) {
  return ask(one.members ? `work-${call}` : call, { ...await requestFor(one), ...more }, options);
}

// workOf is a work of several scores that are open: each player has one book for all
// movements.
const workOf = (members, title = "", titles = []) => settleWork({ plan: [], desks: { ...noDesks }, input: "auto", seats: [], names: new Map(), undo: [], made: new Map(), drawn: new Map(), copies: new Map(), held: null, asked: { title, titles }, members });

// unnamed is what the program calls a work whose files have no name in common.
const unnamed = "work";

// settleWork tells what a work is after its movements or titles have changed.
function settleWork(work) {
  const { members, asked } = work;
  asked.titles = members.map((_, i) => asked.titles[i] ?? "");
  const { version, pitch, pitch_reason, pitch_sure } = members[0];
  return Object.assign(work, { version, pitch, pitch_reason, pitch_sure, title: asked.title || say("page.work", { n: members.length }), parts: Math.max(...members.map((m) => m.parts)),
    path: members.map((m) => m.path).join(", "), measures: members.reduce((n, m) => n + m.measures, 0) });
}

// joinWork makes one work of all scores that are open, in the order of their names.
export async function joinWork() {
  const count = new Intl.Collator("en", { numeric: true });
  const members = scores.filter((s) => !s.members).sort((a, b) => count.compare(a.path, b.path));
  const work = workOf(members);
  scores.push(work);
  unsaved.add(work);
  choose(work);
  await seat(work);
}

// rearrange gives a work other movements or titles, which can be taken back.
export async function rearrange(work, members, asked) {
  remember(work);
  settleWork(Object.assign(work, { members, asked: { ...work.asked, ...asked } }));
  unsaved.add(work);
  await seat(work);
}

// without takes a score that is closed out of a work, for good.
function without(work, one) {
  const kept = (list) => list.filter((_, i) => work.members[i] !== one);
  const asked = { ...work.asked, titles: kept(work.asked.titles) };
  settleWork(Object.assign(work, { members: kept(work.members), asked, undo: [], seats: [] }));
}

// seat says who plays what, after whatever may have changed it. What cannot be is said
// and taken back.
export async function seat(one) {
  drop();
  one.made.clear();
  one.drawn.clear();
  try {
    const { value } = await about(one, "seat");
    for (const s of value.seats) one.names.set(s.part, s.name || s.id);
    if (one.members) Object.assign(one, { title: value.title === unnamed ? one.title : value.title, parts: value.seats.length, movements: value.movements });
    one.seats = value.seats.map((s) => ({ ...s, rows: s.rows.map(small), copies: one.copies?.get(s.label) ?? s.copies }));
    value.warnings.forEach((w) => warn(w.line, null, w.exact));
  } catch (error) {
    mishap(error, () => seat(one));
    if (!(error instanceof Ended) && !(error instanceof Stopped) && one.undo.length) Object.assign(one, one.undo.pop());
    if (one.members) settleWork(one);
  }
  changed();
}

// change gives a seat another instrument, label or number of copies: the plan gets a row
// for every seat, and keeps those that nobody plays.
export async function change(one, index, what) {
  const seatRows = one.seats[index].rows.map((row) => ({ ...row }));
  Object.assign(seatRows[0], what);
  if (what.instrument) Object.assign(seatRows[0], { octave: "", clef: "", label: "" });
  await usePlan(one, one.plan.length ? [...unplayed(one), ...one.seats.flatMap((s, i) => (i === index ? seatRows : s.rows))] : seatRows, one.shared);
}

// unplayed are the rows of a plan for what nobody plays.
export const unplayed = (one) => one.plan.filter((r) => r.instrument === "none");

// give gives a part that nobody plays to an instrument.
export async function give(one, row, instrument) {
  await usePlan(one, one.plan.map((r) => (r === row ? { ...r, instrument, octave: "", clef: "", label: "", player: "" } : r)), one.shared);
}

// join gives the staves of several seats to one player.
export async function join(one, indices, player) {
  const rows = (s, i) => (indices.includes(i) ? s.rows.map((r) => ({ ...r, player, label: "" })) : s.rows);
  await usePlan(one, [...unplayed(one), ...one.seats.flatMap(rows)], one.shared);
}

// part gives the staves of a seat to a player each.
export async function part(one, index) {
  const rows = (s, i) => (i === index ? s.rows.map((r) => ({ ...r, player: "", label: "" })) : s.rows);
  await usePlan(one, [...unplayed(one), ...one.seats.flatMap(rows)], one.shared);
}

// desks changes what is asked for beside the players of the score.
export async function desks(one, what) {
  remember(one);
  one.desks = { ...one.desks, ...what };
  await seat(one);
}

const remember = (one) => one.undo.push({ plan: one.plan, desks: one.desks, shared: one.shared, ...one.members ? { members: one.members, asked: one.asked } : {} });

export async function undo(one) {
  if (!one.undo.length) return;
  Object.assign(one, one.undo.pop());
  if (one.members) settleWork(one);
  await seat(one);
}

// setCopies says how many copies of a player's book are printed.
export function setCopies(work, index, copies) {
  work.seats[index].copies = copies;
  work.copies.set(work.seats[index].label, copies);
  unsaved.add(work);
}

// small writes the columns of a plan's row small, as the page has them.
const small = (row) => Object.fromEntries(Object.entries(row).map(([column, cell]) => [column.toLowerCase(), cell]));

// usePlan has the parts played as the rows of a plan say.
export async function usePlan(one, rows, shared = false) {
  remember(one);
  one.plan = rows.map(small);
  one.shared = shared;
  unsaved.add(one);
  await seat(one);
}

// drawn gives the pages of a part as pictures, drawn when they are first asked for.
export function drawn(one, index, later = false) {
  if (!one.drawn.has(index)) {
    const promise = about(one, "draw", { part: index }, { later });
    one.drawn.set(index, promise);
    promise.catch(() => { if (one.drawn.get(index) === promise) one.drawn.delete(index); });
  }
  return one.drawn.get(index);
}
