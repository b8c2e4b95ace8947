// The room of lessons: a transposition explained, exercises to print, answers marked.
import { say, spoken } from "./say.js";
import { h, find, field, choice, tick, button, more, save, warn } from "./dom.js";
import { ask } from "./program.js";
import { single, about, readFiles } from "./scores.js";
import { settings, unsaved } from "./store.js";
import { instrumentList, run, progress } from "./parts.js";
import { play, silence } from "./player.js";
import { road } from "./road.js";

let lessonWay = null;
const lessonKinds = ["explain", "sheet", "mark"];
const form = { kind: "explain", source: "notes", instrument: "horn-f", from: "sounding", notes: "D4 F#4 A4 C5", key: "D", part: "", measures: "1-4", topic: "transposition",
  sheetSource: "made", sheetTopic: "transposition", sheetInstrument: "", sheetFrom: "sounding", level: 1, count: 5, versions: 1, seed: 1, large: false };
let pages = []; // of the result: { name, text, bytes }
let pageShown = 0;
let heard = [];
let extra = []; // files beside the pages
let archive = "";
let keys = [];
let answers = [];
let sheetKeys = []; // of the sheet that was made here last

export function lessonRoom() {
  lessonWay = road("lesson", [
    { name: "page.step-what", open: () => true, show: whatStep },
    { name: "page.step-fill", open: () => true, show: fillStep },
    { name: "page.step-result", open: () => canGo(), show: resultStep, enter: make, leave: silence },
  ]);
  return lessonWay;
}

export const wantsAnswers = () => form.kind === "mark";

const canGo = () => form.kind !== "mark" || (answers.length > 0 && (keys.length > 0 || sheetKeys.length > 0));

function whatStep() {
  return h("div", {}, h("h2", {}, say("page.step-what")), h("div", { className: "cards", role: "radiogroup", "aria-label": say("page.step-what") },
    lessonKinds.map((kind) => h("label", {}, h("input", { type: "radio", name: "kind", id: `kind-${kind}`, checked: form.kind === kind, onchange: () => { form.kind = kind; lessonWay.show(); } }),
      h("strong", {}, say(`page.kind-${kind}`)), h("span", {}, say(`page.about-${kind}`))))));
}

function fillStep() {
  return h("div", {}, h("h2", {}, say(`page.kind-${form.kind}`)), form.kind === "explain" ? explainForm() : form.kind === "sheet" ? sheetForm() : markForm());
}

const text = (name, label, hint) => field(say(label), h("input", { type: "text", id: name, value: form[name], onchange: (e) => { form[name] = e.target.value; } }), hint ? say(hint) : "");
const number = (name, label, min, max) => field(say(label), h("input", { type: "number", id: name, min, max, value: form[name], onchange: (e) => { form[name] = Math.min(max, Math.max(min, Math.round(Number(e.target.value)) || min)); } }));
const sides = (both) => [["sounding", say("page.from-sounding")], ["written", say("page.from-written")], ...both ? [["both", say("page.from-both")]] : []];
const topics = () => ["transposition", "clef", "interval", "signature", "concert-scale", "band-key", "score-reading", "sight"].map((t) => [t, say(`topic.${t}`)]);

// The topics that are about one instrument; of them, in a sheet, also signatures.
const aboutOne = () => form.source !== "topic" || ["transposition", "sight"].includes(form.topic);
const sheetForOne = () => form.sheetSource !== "made" || ["transposition", "sight", "signature"].includes(form.sheetTopic);
const sheetHasSides = () => form.sheetSource !== "made" || form.sheetTopic === "transposition";

function explainForm() {
  const sources = [["notes", say("page.source-notes")], ["topic", say("page.source-topic")]];
  if (single()) sources.splice(1, 0, ["score", say("page.source-score", { title: single().title || single().path })]);
  else if (form.source === "score") form.source = "notes";
  return h("div", { className: "settings" },
    field(say("page.source"), choice(form.source, sources, (v) => { form.source = v; lessonWay.show(); }, { id: "source" })),
    form.source === "topic" ? field(say("page.topic"), choice(form.topic, topics(), (v) => { form.topic = v; lessonWay.show(); }, { id: "topic" })) : null,
    aboutOne() ? field(say("page.instrument"), instrumentList("lesson-instrument", form.instrument, (v) => { form.instrument = v; })) : null,
    form.source === "topic" ? null : field(say("page.given"), choice(form.from, sides(false), (v) => { form.from = v; }, { id: "from" })),
    form.source === "notes" ? [text("notes", "page.notes", "page.notes-hint"), text("key", "page.key", "page.key-hint")] : null,
    form.source === "score" ? passage("lesson-part") : null);
}

// passage asks for bars of a part of the score.
const passage = (id) => [field(say("page.part"), choice(form.part, single().seats.map((s) => [s.id, s.name || s.id]), (v) => { form.part = v; }, { id })), text("measures", "page.measures", "page.measures-hint")];

function sheetForm() {
  if (!single()) form.sheetSource = "made";
  const made = form.sheetSource === "made";
  return h("div", { className: "settings" },
    single() ? field(say("page.source"), choice(form.sheetSource, [["made", say("page.source-made")], ["score", say("page.source-score", { title: single().title || single().path })]], (v) => { form.sheetSource = v; lessonWay.show(); }, { id: "sheet-source" })) : null,
    made ? field(say("page.topic"), choice(form.sheetTopic, topics(), (v) => { form.sheetTopic = v; lessonWay.show(); }, { id: "sheet-topic" })) : passage("sheet-part"),
    sheetForOne() ? field(say("page.instrument"), instrumentList("sheet-instrument", form.sheetInstrument || (made ? "" : form.instrument), (v) => { form.sheetInstrument = v; }, made ? say("page.mixed") : "")) : null,
    sheetHasSides() ? field(say("page.given"), choice(form.sheetFrom, sides(made), (v) => { form.sheetFrom = v; }, { id: "sheet-from" })) : null,
    made ? [field(say("page.level-of"), choice(String(form.level), [1, 2, 3, 4, 5].map((n) => [String(n), say(`page.level-${n}`)]), (v) => { form.level = Number(v); }, { id: "sheet-level" })),
      number("count", "page.count", 1, 50), more("more-sheet", say("page.more"), h("div", { className: "settings" }, number("versions", "page.versions", 1, 12), number("seed", "page.seed", 0, 999999999),
        tick(say("page.large"), form.large, (v) => { form.large = v; }, { id: "sheet-large" })))] : tick(say("page.large"), form.large, (v) => { form.large = v; }, { id: "sheet-large" }));
}

function markForm() {
  const list = (files) => h("ul", {}, files.map((f) => h("li", {}, f.name)));
  return h("div", {}, h("p", {}, say("page.mark-intro")),
    h("h3", {}, say("page.keys")), keys.length ? list(keys) : sheetKeys.length ? h("p", {}, say("page.keys-here")) : h("p", { className: "soft" }, say("page.keys-none")),
    h("div", { className: "tools" }, button(say("page.choose-keys"), () => find("#key-files").click(), { id: "choose-keys" }), keys.length ? button(say("page.forget"), () => { keys = []; lessonWay.show(); }, { id: "forget-keys" }) : null),
    h("h3", {}, say("page.answers")), answers.length ? list(answers) : h("p", { className: "soft" }, say("page.answers-none")),
    h("div", { className: "tools" }, button(say("page.choose-answers"), () => find("#answer-files").click(), { id: "choose-answers" }), answers.length ? button(say("page.forget"), () => { answers = []; lessonWay.show(); }, { id: "forget-answers" }) : null));
}

// takeAnswers takes files that were chosen or dropped: those that are called as the files
// of a sheet are keys, all others are answers.
export function takeAnswers(files, as = "") {
  for (const f of files) {
    if (as === "key" || (!as && /^(answer|exercise)-\d+\.musicxml$|^sheet .*\.zip$/i.test(f.name))) keys.push(f);
    else answers.push(f);
  }
  for (const list of [keys, answers]) list.sort((a, b) => a.name.localeCompare(b.name, "en", { numeric: true }));
  form.kind = "mark";
  if (lessonWay.at() !== 1) lessonWay.go(1);
  else lessonWay.show();
}

// make makes what was asked for.
async function make() {
  pages = [];
  heard = [];
  extra = [];
  pageShown = 0;
  lessonWay.show(); // nobody prints what was made before
  await run("lesson", async () => {
    await { explain: makeLesson, sheet: makeSheet, mark: makeMarks }[form.kind]();
    lessonWay.show();
  });
  lessonWay.show();
}

const keepPages = (files) => {
  const read = new TextDecoder();
  pages = files.filter(([name]) => name.endsWith(".html")).map(([name, bytes]) => ({ name, bytes, text: read.decode(bytes) }));
  extra = files.filter(([name]) => !name.endsWith(".html"));
};

async function makeLesson() {
  const request = { language: spoken(), instrument: form.instrument, from: form.from };
  archive = say("page.name-lesson");
  if (form.source === "topic") return keepPages((await ask("topic", { ...request, instrument: aboutOne() ? form.instrument : "", topic: form.topic })).files);
  const music = form.source === "notes" ? { notes: form.notes, key: form.key } : { part: form.part || single().seats[0].id, measures: form.measures };
  const { value, files } = form.source === "notes" ? await ask("lesson", { ...request, ...music }) : await about(single(), "lesson", { ...request, ...music });
  heard = value.heard;
  keepPages(files);
}

const madeUp = () => ({ topic: form.sheetTopic, instrument: sheetForOne() ? form.sheetInstrument : "", from: form.sheetFrom, level: form.level, count: form.count, versions: form.versions, seed: form.seed });

const takenFrom = () => ({ part: form.part || single().seats[0].id, measures: form.measures, instrument: form.sheetInstrument || form.instrument,
  from: form.sheetFrom === "both" ? "sounding" : form.sheetFrom, level: 1, count: 1, seed: 1 });

async function makeSheet() {
  const request = { language: spoken(), large: form.large };
  const { value, files } = form.sheetSource === "made" ? await ask("sheet", { ...request, ...madeUp() }) : await about(single(), "sheet", { ...request, ...takenFrom() });
  archive = `sheet ${value[0].code}`;
  sheetKeys = files.filter(([name]) => name.endsWith(".musicxml")).map(([name, bytes]) => [name, bytes.slice()]);
  unsaved.add("sheet");
  keepPages(files);
}

async function makeMarks() {
  const keyFiles = keys.length ? await readFiles(keys) : sheetKeys.map(([name, bytes]) => [name, bytes.slice()]);
  const all = [...keyFiles, ...await readFiles(answers)];
  const { value, files } = await ask("mark", { language: spoken(), keys: keyFiles.length }, { files: all, progress: (p) => progress({ ...p, made: null }) });
  value.rejected.forEach((r) => warn(`${r.input}: ${r.text}`));
  if (value.summary.marked > 1 && value.summary.lenient * 4 < value.summary.notes) warn(say("page.other-sheet"));
  archive = say("page.name-marks");
  unsaved.add("marks");
  keepPages(files);
  pages.unshift(pages.pop()); // the class first
}

function nameOf(page) {
  const base = page.name.split("/").pop();
  const known = { "exercises.html": "page.page-exercises", "answers.html": "page.page-answers", "lesson.html": "page.page-lesson", "class.html": "page.page-class" }[base];
  const folder = page.name.includes("/") ? ` ${page.name.split("/")[0]}` : "";
  return (known ? say(known) : base.replace(/\.html$/, "")) + folder;
}

function resultStep() {
  if (!pages.length) return h("div", {}, h("h2", {}, say("page.step-result")), h("p", { className: "soft" }, say("page.making")));
  const frame = h("iframe", { title: nameOf(pages[pageShown]), sandbox: "allow-same-origin allow-modals", id: "lesson-page" });
  frame.srcdoc = withoutScripts(pages[pageShown].text);
  frame.addEventListener("load", () => wire(frame));
  return h("div", {}, h("h2", {}, say("page.step-result")),
    h("div", { className: "tools" },
      pages.length > 1 ? field(say("page.page"), choice(String(pageShown), pages.map((p, i) => [String(i), nameOf(p)]), (v) => { pageShown = Number(v); silence(); lessonWay.show(); }, { id: "lesson-pages" })) : null,
      button(say("page.print-this"), () => frame.contentWindow.print(), { id: "lesson-print", className: "next" }),
      button(say("page.save-page"), () => save(pages[pageShown].name, pages[pageShown].bytes), { id: "lesson-save" }),
      paperOf(pages[pageShown]) ? button(say("page.save-pdf"), () => save(...paperOf(pages[pageShown])), { id: "lesson-save-pdf" }) : null,
      extra.length ? button(say("page.save-all"), saveAll, { id: "lesson-save-all" }) : null,
      extra.some(([n]) => n.endsWith(".csv")) ? button(say("page.save-table"), () => { save(...extra.find(([n]) => n.endsWith(".csv"))); unsaved.done("marks"); }, { id: "lesson-save-table" }) : null),
    frame);
}

// paperOf is the same page as a PDF.
const paperOf = (page) => extra.find(([name]) => name === page.name.replace(/html$/, "pdf"));

async function saveAll() {
  const files = [...pages.map((p) => [p.name, p.bytes.slice()]), ...extra.map(([n, b]) => [n, b.slice()])];
  await run("save", async () => {
    const { files: made } = await ask("pack", {}, { files });
    save(`${archive}.zip`, made[0][1]);
    unsaved.done("sheet");
    unsaved.done("marks");
  });
}

// withoutScripts is a page to be pageShown within this one, which plays its notes.
function withoutScripts(html) {
  const page = new DOMParser().parseFromString(html, "text/html");
  page.querySelectorAll("script, meta[http-equiv], link, .look, [data-play=both], #loop, #count-in").forEach((e) => (e.closest(".choices label") ?? e).remove());
  if (settings.theme) page.getElementById(`light-${settings.theme}`)?.setAttribute("checked", "");
  return `<!DOCTYPE html>${page.documentElement.outerHTML}`;
}

// wire gives the buttons of a page pageShown within this one to the player here, and its
// links to the pages beside it.
function wire(frame) {
  const page = frame.contentDocument;
  if (!page) return;
  const tempo = page.getElementById("tempo");
  const quick = () => Number(tempo?.value ?? 96);
  const notes = heard.filter((n) => n.length > 0);
  page.addEventListener("click", (event) => {
    const on = event.target.closest("a, button");
    if (!on) return;
    if (on.dataset.play) play(notes, on.dataset.play, quick());
    else if (on.dataset.hear) hearBoth(heard[Number(on.dataset.hear)]);
    else if ("stop" in on.dataset) silence();
    else if (on.tagName === "A" && !on.getAttribute("href").startsWith("#")) {
      event.preventDefault();
      const at = pages.findIndex((p) => p.name === decodeURIComponent(on.getAttribute("href")));
      if (at >= 0) { pageShown = at; lessonWay.show(); }
    }
  });
  if (tempo) {
    const says = page.getElementById("tempo-says");
    const show = () => { says.value = tempo.value; };
    tempo.addEventListener("input", show);
    show();
  }
}

// hearBoth plays a note as it is given and then as it is answered.
function hearBoth(note) {
  const [first, second] = form.from === "sounding" ? ["sounding", "written"] : ["written", "sounding"];
  const one = [{ ...note, start: 0, length: 1 }];
  play(one, first, 96, () => play(one, second, 96));
}
