// Looking at a part and hearing it.
import { say } from "./say.js";
import { h, fill, find, field, button, save, warn } from "./dom.js";
import { about, drawn, savedName } from "./scores.js";
import { mishap } from "./program.js";
import { play, silence } from "./player.js";

let shown = 0;
let tempo = 96;

// partsWithPages lists the seats of a score; the one that is chosen is drawn.
export function partsWithPages(one, room) {
  shown = Math.min(shown, Math.max(0, one.seats.length - 1));
  const pages = h("div", { className: "pages", role: "region", "aria-label": say("page.pages"), tabIndex: 0 });
  const list = h("div", { className: "chooser", role: "radiogroup", "aria-label": say("page.parts") },
    one.seats.map((s) => h("label", {}, h("input", { type: "radio", name: `${room}-part`, checked: s.index === shown, onchange: () => { shown = s.index; pick(); } }),
      h("span", {}, s.label), h("small", { id: `${room}-state-${s.index}` }))));
  const bar = h("div", { className: "tools" });

  function pick() {
    silence();
    showTools();
    showPages(one, shown, pages);
  }

  function showTools() {
    const s = one.seats[shown];
    if (!s) return;
    fill(bar,
      one.members ? null : [button(say("page.play-written"), () => hearPart(one, shown, "written"), { id: `${room}-written` }),
      button(say("page.play-sounding"), () => hearPart(one, shown, "sounding"), { id: `${room}-sounding` }),
      button(say("page.silence"), silence, { id: `${room}-silence` }),
      field(say("page.tempo"), h("input", { type: "number", id: `${room}-tempo`, min: 30, max: 240, value: tempo, onchange: (e) => { tempo = Math.min(240, Math.max(30, Number(e.target.value) || 96)); } })),
      ],
      button(say("page.print-this"), () => printPages(one, shown), { id: `${room}-print-this` }),
      button(say("page.save-pdf"), () => savePart(one, shown, "print"), { id: `${room}-save-pdf` }),
      button(say("page.save-music"), () => savePart(one, shown, "make"), { id: `${room}-save-music` }));
  }

  queueMicrotask(() => { pick(); drawAll(one, room); });
  return h("div", { className: "look" }, list, h("div", { className: "view" }, bar, pages));
}

// drawAll draws the parts that nobody looks at yet, one after another, so that they are
// there when somebody does.
async function drawAll(one, room) {
  for (const s of one.seats) {
    try {
      const { value } = await drawn(one, s.index, true);
      const state = document.getElementById(`${room}-state-${s.index}`);
      if (state) state.textContent = value.failed ? say("page.not-drawn") : say("page.n-pages", { n: value.pages.length });
    } catch {
      return;
    }
  }
}

const images = (files) => files.map(([, bytes]) => URL.createObjectURL(new Blob([bytes], { type: "image/svg+xml" })));

async function showPages(one, index, pages) {
  pages.setAttribute("aria-busy", "true");
  fill(pages, h("p", { className: "soft" }, say("page.drawing")));
  try {
    const { value, files } = await drawn(one, index);
    if (index !== shown) return;
    const label = one.seats[index].label;
    fill(pages, value.warnings.length ? h("details", {}, h("summary", {}, say("page.n-notices", { n: value.warnings.length })), h("ul", {}, value.warnings.map(line))) : null,
      images(files).map((src, i) => h("img", { src, alt: say("page.page-of", { part: label, n: i + 1, of: files.length }) })),
      files.length ? null : h("p", {}, say("page.no-pages")));
  } catch (error) {
    mishap(error, () => showPages(one, index, pages));
  }
  pages.removeAttribute("aria-busy");
}

export const line = (w) => h("li", {}, [w.line, w.exact ? h("details", {}, h("summary", {}, say("page.exact")), h("p", { lang: "en" }, w.exact)) : null]);

async function hearPart(one, index, side) {
  try {
    const { value } = await about(one, "hear", { part: index });
    await play(value, side, tempo);
  } catch (error) {
    mishap(error, () => hearPart(one, index, side));
  }
}

async function savePart(one, index, call) {
  try {
    await about(one, call, { parts: [index] }, { progress: (p) => {
      if (p.files.length) save(...p.files[0]);
      else warn(p.made.warnings.at(-1)?.line ?? say("page.no-pages"));
    } });
  } catch (error) {
    mishap(error, () => savePart(one, index, call));
  }
}

// printPages has the browser print the pages of a part.
async function printPages(one, index) {
  try {
    const { value, files } = await drawn(one, index);
    const paper = find("#paper");
    const [wide, tall] = value.paper;
    const loaded = images(files).map((src) => {
      const image = h("img", { src, alt: "" });
      return image.decode().then(() => image);
    });
    fill(paper, h("style", {}, `@page{size:${wide}mm ${tall}mm;margin:0}#paper img{width:${wide}mm;height:${tall}mm}`), await Promise.all(loaded));
    const title = document.title;
    document.title = `${savedName(one)} ${one.seats[index].label}`;
    document.body.dataset.paper = "yes";
    addEventListener("afterprint", () => { delete document.body.dataset.paper; fill(paper); }, { once: true });
    print();
    document.title = title;
  } catch (error) {
    mishap(error, () => printPages(one, index));
  }
}

export const leaveLook = silence;
