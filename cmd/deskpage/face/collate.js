// Parts that are there already, held against the score.
import { say } from "./say.js";
import { h, find, button, save, stem } from "./dom.js";

export const collateSection = (one) => h("div", {}, h("p", {}, say("page.collate-hint")),
  h("div", { className: "tools" }, button(say("page.choose-parts"), () => find("#part-files").click(), { id: "choose-parts" }),
    one.held ? button(say("page.collate-table"), () => save(`${stem(one.path)} ${one.held.table[0]}`, one.held.table[1]), { id: "collate-table" }) : null),
  one.held ? one.held.results.map(result) : null);

const result = (r) => h("div", {}, h("h3", {}, r.part, r.file ? h("small", {}, r.file) : null),
  r.agree ? h("p", {}, say("page.collate-agrees")) : h("div", { className: "scroll", tabIndex: 0, role: "region", "aria-label": r.part }, h("table", {},
    h("thead", {}, h("tr", {}, ["page.in-bar-head", "page.stands", "page.should"].map((k) => h("th", { scope: "col" }, say(k))))),
    h("tbody", {}, r.differences.map((d) => h("tr", {}, h("th", { scope: "row" }, d.measure ? say("page.in-bar", { bar: d.measure }) : "–", d.beat ? h("small", {}, say("page.beat", { beat: d.beat })) : null),
      d.stands || d.should ? [h("td", {}, d.stands || "–"), h("td", {}, d.should || "–")] : h("td", { colSpan: 2 }, d.text)))))),
  r.remarks.length ? h("ul", {}, r.remarks.map((text) => h("li", {}, text))) : null);
