// The page: its rooms, its language and look, files that are dropped anywhere.
import { say, sayAll, speak, spoken, languages } from "./say.js";
import { find, fill, choice, field, calm, warn } from "./dom.js";
import { start, ready, kill } from "./program.js";
import { settings, set } from "./store.js";
import { partsRoom, learnInstruments, take, takePlan, stopWork } from "./parts.js";

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
    field(say("page.language"), choice(spoken(), Object.entries(languages), async (v) => { set("language", v); speak(v); head(); await learnInstruments(); showRooms(); }, { id: "language" })),
    field(say("page.light"), choice(settings.theme, [["", say("page.light-device")], ["light", say("page.light-light")], ["dark", say("page.light-dark")]], (v) => { set("theme", v); takeLight(); }, { id: "light" })));
}

function showRooms() {
  for (const [name, way] of Object.entries(rooms)) {
    find(`#room-${name}`).hidden = name !== settings.room;
    find(`#to-${name}`).setAttribute("aria-current", name === settings.room ? "page" : "false");
    way.show();
  }
}

function enter(name) {
  set("room", name);
  showRooms();
}

// sort hands files to where they belong: a table is a plan, all others are scores.
function sort(files) {
  calm();
  const all = [...files];
  const plans = all.filter((f) => /\.(csv|txt|tsv)$/i.test(f.name));
  const music = all.filter((f) => !plans.includes(f));
  if (music.length) return take(music).then(() => plans.forEach(takePlan));
  plans.forEach(takePlan);
}

function listen() {
  addEventListener("dragover", (event) => { event.preventDefault(); document.body.classList.add("over"); });
  addEventListener("dragleave", (event) => { if (!event.relatedTarget) document.body.classList.remove("over"); });
  addEventListener("drop", (event) => { event.preventDefault(); document.body.classList.remove("over"); sort(event.dataTransfer.files); });
  find("#files").addEventListener("change", (event) => { sort(event.target.files); event.target.value = ""; });
  find("#plan-file").addEventListener("change", (event) => { if (event.target.files[0]) takePlan(event.target.files[0]); event.target.value = ""; });
  find("#stop").addEventListener("click", stopWork);
  for (const name of Object.keys(rooms)) find(`#to-${name}`).addEventListener("click", () => enter(name));
  addEventListener("error", (event) => { warn(say("page.fault", { what: event.message })); });
}

chooseLanguage();
takeLight();
head();
rooms.parts = partsRoom();
if (!rooms[settings.room]) settings.room = "parts";
listen();
showRooms();
start();
ready.then(async () => {
  await learnInstruments();
  document.body.dataset.ready = "yes";
});
addEventListener("deskpart-kill", kill);
