// The page: its rooms, its language and look, files that are dropped anywhere.
import { say, sayAll, speak, spoken, languages } from "./say.js";
import { find, fill, choice, field, calm, warn } from "./dom.js";
import { ask, start, ready } from "./program.js";
import { settings, set } from "./store.js";
import { partsRoom, learnInstruments, take, takePlan, holdParts, stopWork } from "./parts.js";
import { bandRoom, learnBand } from "./band.js";
import { lessonRoom, takeAnswers, wantsAnswers } from "./lesson.js";

const rooms = {};

function chooseLanguage() {
  const wanted = settings.language || navigator.language.slice(0, 2);
  speak(wanted);
  settings.language = spoken();
}

// look takes the light that was chosen, or the device's.
function takeLight() {
  if (settings.theme) document.documentElement.dataset.theme = settings.theme;
  else delete document.documentElement.dataset.theme;
}

function head() {
  sayAll(document);
  document.title = say("page.title");
  fill(find("#choices"),
    field(say("page.language"), choice(spoken(), Object.entries(languages), async (v) => { set("language", v); speak(v); head(); await learn(); showRooms(); }, { id: "language" })),
    field(say("page.light"), choice(settings.theme, [["", say("page.light-device")], ["light", say("page.light-light")], ["dark", say("page.light-dark")]], (v) => { set("theme", v); takeLight(); }, { id: "light" })));
}

async function learn() {
  await learnInstruments();
  await learnBand();
}

function showRooms() {
  for (const [name, way] of Object.entries(rooms)) {
    const here = name === settings.room;
    find(`#room-${name}`).hidden = !here;
    find(`#to-${name}`).setAttribute("aria-current", here ? "page" : "false");
    if (!here) way.rest();
  }
  rooms[settings.room].show();
  find("h1").textContent = say(`page.head-${settings.room}`);
}

function enter(name) {
  set("room", name);
  showRooms();
}

// sort hands files to where they belong: pupils' answers where answers are marked, else a
// table is a plan and all others are scores.
function sort(files) {
  calm();
  const all = [...files];
  if (settings.room === "lesson" && wantsAnswers()) return takeAnswers(all);
  if (settings.room === "lesson") enter("parts");
  const plans = all.filter((f) => /\.(csv|txt|tsv)$/i.test(f.name));
  const music = all.filter((f) => !plans.includes(f));
  if (music.length) return take(music).then(() => plans.forEach(takePlan));
  plans.forEach(takePlan);
}

// dropped are the files that were dropped, those of folders, too.
async function dropped(transfer) {
  const entries = [...transfer.items].map((item) => item.webkitGetAsEntry?.());
  if (!entries.some((entry) => entry?.isDirectory)) return [...transfer.files];
  const files = [];
  for (const entry of entries) files.push(...await within(entry));
  return files.filter(isWanted);
}

async function within(entry) {
  if (!entry) return [];
  if (entry.isFile) return [Object.defineProperty(await new Promise((yes, no) => entry.file(yes, no)), "path", { value: entry.fullPath.replace(/^\//, "") })];
  const reader = entry.createReader();
  const files = [];
  for (;;) {
    const some = await new Promise((yes, no) => reader.readEntries(yes, no));
    if (!some.length) return files;
    for (const one of some) files.push(...await within(one));
  }
}

// isWanted tells a file of a folder that is music, or where answers are marked any that is
// not the system's own.
function isWanted(file) {
  if (file.name.startsWith(".")) return false;
  return settings.room === "lesson" && wantsAnswers() || /\.(musicxml|xml|mxl|zip)$/i.test(file.name);
}

function listen() {
  addEventListener("dragover", (event) => { event.preventDefault(); document.body.classList.add("over"); });
  addEventListener("dragleave", (event) => { if (!event.relatedTarget) document.body.classList.remove("over"); });
  addEventListener("drop", (event) => { event.preventDefault(); document.body.classList.remove("over"); dropped(event.dataTransfer).then(sort); });
  find("#folder").addEventListener("change", (event) => { sort([...event.target.files].filter(isWanted)); event.target.value = ""; });
  find("#files").addEventListener("change", (event) => { sort(event.target.files); event.target.value = ""; });
  find("#plan-file").addEventListener("change", (event) => { if (event.target.files[0]) takePlan(event.target.files[0]); event.target.value = ""; });
  for (const as of ["key", "answer"]) {
    find(`#${as}-files`).addEventListener("change", (event) => { takeAnswers(event.target.files, as); event.target.value = ""; });
  }
  find("#part-files").addEventListener("change", (event) => { holdParts([...event.target.files]); event.target.value = ""; });
  find("#notices").addEventListener("click", showNotices);
  find("#stop").addEventListener("click", stopWork);
  for (const name of Object.keys(rooms)) find(`#to-${name}`).addEventListener("click", () => enter(name));
  addEventListener("error", (event) => { warn(say("page.fault", { what: event.message })); });
}

// showNotices shows the licences of all that is built in.
async function showNotices() {
  const dialog = find("#notice");
  find("#notice pre").textContent = (await ask("notices")).value;
  dialog.showModal();
}

chooseLanguage();
takeLight();
head();
Object.assign(rooms, { parts: partsRoom(), band: bandRoom(), lesson: lessonRoom() });
if (!rooms[settings.room]) settings.room = "parts";
listen();
showRooms();
start();
ready.then(async () => {
  await learn();
  rooms[settings.room].show();
  document.body.dataset.ready = "yes";
});
