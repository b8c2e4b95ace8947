"use strict";
// Whole parts lie packed in the page and are drawn when their reader opens them.
const movements = JSON.parse(document.getElementById("bars").textContent);
const numbersOf = (whole) => movements[Number(whole.dataset.movement) - 1];
const announcement = document.getElementById("status");
const drawings = new Map();

async function unpack(text) {
  const bytes = Uint8Array.from(atob(text.trim()), (c) => c.charCodeAt(0));
  const unpacked = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  return new Response(unpacked).text();
}

function draw(whole) {
  if (!drawings.has(whole)) drawings.set(whole, drawNow(whole));
  return drawings.get(whole);
}

async function drawNow(whole) {
  const place = whole.querySelector(".drawn");
  place.textContent = "Drawing …";
  try {
    place.innerHTML = await unpack(document.getElementById(whole.id.replace("whole", "data")).textContent);
  } catch {
    place.textContent = "This browser cannot unpack the whole part; one from 2023 or later can.";
    return;
  }
  for (const bar of whole.dataset.spots.split(" ")) {
    if (bar) for (const group of groups(whole, Number(bar))) frame(group, "spot", true);
  }
}

// groups are the drawn bar that holds a bar (a multi-bar rest holds several), on
// each staff.
function groups(whole, bar) {
  let held = 0;
  for (const g of whole.querySelectorAll("[data-bar]")) {
    const n = Number(g.dataset.bar);
    if (n <= bar && n > held) held = n;
  }
  return whole.querySelectorAll('[data-bar="' + held + '"]');
}

// frame puts a rectangle round a bar, behind its notes or before them.
function frame(group, kind, behind) {
  const box = group.getBBox();
  const top = Math.min(box.y, -25), bottom = Math.max(box.y + box.height, 25);
  const rect = document.createElementNS("http://www.w3.org/2000/svg", "rect");
  const size = { x: box.x - 4, y: top - 4, width: box.width + 8, height: bottom - top + 8 };
  for (const name in size) rect.setAttribute(name, size[name].toFixed(1));
  rect.setAttribute("class", kind);
  if (behind) group.prepend(rect);
  else group.append(rect);
}

async function show(part, bar) {
  const whole = document.getElementById("p" + part + "-whole");
  if (!whole) return;
  whole.open = true;
  await draw(whole);
  const found = groups(whole, bar);
  if (!found.length) return;
  for (const old of document.querySelectorAll(".found")) old.remove();
  for (const group of found) frame(group, "found", false);
  const line = found[0].closest("svg");
  line.tabIndex = -1;
  line.focus({ preventScroll: true });
  line.scrollIntoView({ block: "center" });
  announcement.textContent = "Bar " + (numbersOf(whole)[bar - 1] ?? bar) + " of " + document.getElementById("p" + part + "-name").textContent;
}

function follow() {
  const spot = /^#p(\d+)-b(\d+)$/.exec(location.hash);
  if (spot) show(Number(spot[1]), Number(spot[2]));
}

for (const whole of document.querySelectorAll(".whole")) {
  whole.addEventListener("toggle", () => { if (whole.open) draw(whole); });
  whole.querySelector("form").addEventListener("submit", (event) => {
    event.preventDefault();
    const input = whole.querySelector("input");
    const bar = numbersOf(whole).indexOf(input.value.trim()) + 1;
    if (bar) show(/\d+/.exec(whole.id)[0], bar);
    else announcement.textContent = "There is no bar " + input.value;
    input.setAttribute("aria-invalid", bar ? "false" : "true");
  });
}

document.addEventListener("click", (event) => {
  const link = event.target.closest("a[href]");
  if (link && link.getAttribute("href") === location.hash) follow();
});
addEventListener("hashchange", follow);

document.querySelector('[data-draw="all"]').addEventListener("click", async () => {
  for (const whole of document.querySelectorAll(".whole")) {
    whole.open = true;
    await draw(whole);
  }
  announcement.textContent = "All parts are drawn";
});
document.querySelector('[data-draw="none"]').addEventListener("click", () => {
  for (const whole of document.querySelectorAll(".whole")) whole.open = false;
});

// A part ticked off in the overview is ticked off beside its name, too.
function countTicks() {
  const boxes = [...document.querySelectorAll("nav [data-tick]")];
  const ticked = document.getElementById("ticked");
  ticked.textContent = boxes.filter((box) => box.checked).length + " of " + boxes.length + " looked at.";
  ticked.hidden = false;
}
document.addEventListener("change", (event) => {
  const n = event.target.dataset.tick;
  if (!n) return;
  for (const box of document.querySelectorAll('[data-tick="' + n + '"]')) box.checked = event.target.checked;
  countTicks();
});
countTicks();
follow();
