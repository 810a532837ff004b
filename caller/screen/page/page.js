"use strict";
// Shows what the class screen shows. It asks for facts and gives nothing: "?side=teacher" turns the room round,
// "?look=light" is for a bright room, "?show=floor" draws where the feet go in place of what comes next; all are this
// page's own.
const asked = new URLSearchParams(location.search);
const teacher = asked.get("side") === "teacher";
document.documentElement.classList.toggle("teacher", teacher);
document.documentElement.classList.toggle("light", asked.get("look") === "light");
const floor = asked.get("show") === "floor";
document.documentElement.classList.toggle("floor", floor);
const SHAPES = {
  foot: "M 0 -11 C 6 -11 6 -3 4 2 L 4 8 C 4 12 -4 12 -4 8 L -4 2 C -6 -3 -6 -11 0 -11 Z",
  ball: "M 0 -12 C 8 -12 8 0 0 0 C -8 0 -8 -12 0 -12 Z",
  lifted: "M 0 -13 L 7 2 L 0 -2 L -7 2 Z",
};
const CLOCK = ["12:00", "1:30", "3:00", "4:30", "6:00", "7:30", "9:00", "10:30"];
const SVG = "http://www.w3.org/2000/svg";
const GOOD = 0.1; // of the height: letters that carry; below it, shorter words are tried
const TOLD_BEFORE = 2; // lines that stay above the one that is spoken
const QUIET_MS = 3500;
const part = (id) => document.getElementById(id);
let facts = { state: "none" };

function put(id, text) {
  const place = part(id);
  if (place.textContent !== text) place.textContent = text;
}

// As many whole words as there is room for, and an ellipsis where some are left out.
function putLine(id, text) {
  const place = part(id);
  if (place.dataset.text === text && place.dataset.wide === String(innerWidth)) return;
  place.dataset.text = text;
  place.dataset.wide = String(innerWidth);
  const words = text.split(" ");
  place.textContent = text;
  for (let kept = words.length - 1; kept > 0 && place.scrollWidth > place.clientWidth; kept -= 1) {
    place.textContent = words.slice(0, kept).join(" ") + " …";
  }
}

// The largest letters at which no word is cut, in whole pixels, at most so many.
function largest(place, text, most) {
  place.textContent = text;
  let low = 4, high = Math.max(8, Math.floor(Math.min(place.clientHeight, most)));
  while (low < high) {
    const size = Math.ceil((low + high) / 2);
    place.style.fontSize = size + "px";
    const fits = place.scrollHeight <= place.clientHeight + 1 && place.scrollWidth <= place.clientWidth + 1;
    if (fits) low = size; else high = size - 1;
  }
  place.style.fontSize = low + "px";
  return low;
}

function putBig(id, wordings, again, most = Infinity) {
  const place = part(id), key = [most, ...wordings].join("\n");
  if (!again && place.dataset.key === key) return;
  place.dataset.key = key;
  let best = "", size = 0;
  for (const words of wordings) {
    const found = largest(place, words, most);
    if (found > size) { best = words; size = found; }
    if (found >= GOOD * innerHeight) break;
  }
  largest(place, best, most);
}

function made(parent, name, attributes, text) {
  const one = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) one.setAttribute(key, value);
  if (text) one.textContent = text;
  parent.appendChild(one);
}

function drawDial() {
  const dial = part("dial"), half = teacher ? 4 : 0;
  dial.replaceChildren();
  if (facts.facing === null || facts.facing === undefined) return;
  const at = (eighths, far) => [far * Math.sin((eighths + half) * Math.PI / 4), -far * Math.cos((eighths + half) * Math.PI / 4)];
  CLOCK.forEach((clock, eighths) => { const [x, y] = at(eighths, 85); made(dial, "text", { x, y }, clock); });
  const [x, y] = at(facts.facing, 44);
  made(dial, "line", { x1: 0, y1: 0, x2: x, y2: y, class: "hand" });
  made(dial, "circle", { cx: 0, cy: 0, r: 15, class: "boss" });
  const dots = Math.min(8, Math.abs(facts.turn)) * 2, way = Math.sign(facts.turn);
  for (let dot = 1; dot <= dots; dot += 1) {
    const [cx, cy] = at(facts.facing + way * dot / 2, 57);
    made(dial, "circle", { cx, cy, r: dot === dots ? 7 : 3, class: "trail" });
  }
}

// The section's floor: filled is the right foot, a ball alone bears no weight, an arrowhead is lifted; the line is the way
// of the weight.
// A teacher who faces the class sees the room turned half round, its front wall below.
function drawFloor() {
  const drawn = part("floor"), shown = facts.floor;
  drawn.replaceChildren();
  if (!floor || !shown) return;
  const [left, top, wide, high] = shown.view, half = teacher ? 180 : 0;
  const seen = ([x, y]) => teacher ? [2 * left + wide - x, 2 * top + high - y] : [x, y];
  drawn.setAttribute("viewBox", [left, top - 26, wide, high + 52].join(" "));
  made(drawn, "text", { x: left + wide / 2, y: teacher ? top + high + 14 : top - 12, class: "front" }, "front");
  made(drawn, "polyline", { points: shown.path.map((point) => seen(point).join(",")).join(" ") });
  for (const mark of shown.marks) {
    const [x, y] = seen([mark.x, mark.y]);
    const now = mark.label.split(", ").some((label) => label.replace(/\D+$/, "") === shown.now);
    const kind = [mark.foot === "R" ? "right" : "left", now ? "now" : ""].join(" ");
    made(drawn, "path", { d: SHAPES[mark.shape], class: kind, transform: `translate(${x} ${y}) rotate(${mark.degrees + half}) scale(1.4)` });
  }
  for (const mark of shown.marks) {
    const [x, y] = seen(mark.at);
    made(drawn, "text", { x, y }, mark.label);
  }
}

function drawFoot() {
  const [left, word, right] = part("foot").children;
  const own = facts.foot === "right" ? !teacher : teacher;
  const now = facts.foot !== "" && !facts.foot_next;
  left.classList.toggle("on", now && !own);
  right.classList.toggle("on", now && own);
  word.classList.toggle("right", own);
  word.classList.toggle("next", facts.foot_next === true);
  word.textContent = facts.foot_next ? `next: ${facts.foot}` : facts.foot;
  part("foot").className = facts.foot;
}

function element(name, className, text) {
  const one = document.createElement(name);
  if (className) one.className = className;
  if (text !== undefined) one.textContent = text;
  return one;
}

function drawStrip() {
  const strip = part("strip");
  strip.replaceChildren();
  const notes = [...(facts.holds || []), facts.strip ? facts.strip.ahead : ""].filter(Boolean).join(" · ");
  let before = 0;
  for (const piece of facts.strip ? facts.strip.pieces : []) {
    const drawn = element("span", "piece");
    drawn.appendChild(element("b", "", piece.label));
    for (let count = 0; count < piece.counts; count += 1) {
      const begun = before + count < facts.strip.danced;
      const changed = piece.changed.some(([from, to]) => from <= count && count < to);
      drawn.appendChild(element("i", begun ? "begun" : changed ? "changed" : ""));
    }
    before += piece.counts;
    strip.appendChild(drawn);
  }
  if (facts.strip && facts.strip.ends) strip.appendChild(element("span", "", facts.strip.ends));
  if (notes) strip.appendChild(element("span", "ahead", notes));
}

function drawOrder() {
  part("order").replaceChildren(...(facts.order || []).map((wall) =>
    element("span", wall.now ? "now" : "", [wall.name, wall.starts, ...wall.events].join(" "))));
}

// The line that is spoken stands out; those told long before it make room.
function drawListed() {
  const marked = facts.marked ?? -1, from = marked - TOLD_BEFORE;
  const kind = (one, n) => n === marked ? "now" : one.endsWith(":") ? "head" : "";
  const lines = (facts.listed || []).map((one, n) => element("li", kind(one, n), one));
  const shown = lines.filter((_, n) => n === 0 || n >= from);
  part("listed").replaceChildren(...(facts.notices || []).map((one) => element("li", "", one)), ...shown);
}

let drawn = {};
function changed(name, ...of) {
  const key = JSON.stringify(of);
  if (drawn[name] === key) return false;
  drawn[name] = key;
  return true;
}

function show(again) {
  if (again) drawn = {};
  const none = facts.state === "none";
  document.body.classList.toggle("still", !facts.moving);
  for (const id of ["title", "tempo", "wall", "label"]) put(id, facts[id] || "");
  putLine("section", facts.section || "");
  put("caption", facts.caption || "");
  put("turn", facts.turn_words || "");
  if (changed("listed", facts.notices, facts.listed, facts.marked)) { drawListed(); again = true; }
  if (changed("strip", facts.strip, facts.holds)) drawStrip();
  if (changed("order", facts.order)) drawOrder();
  if (changed("dial", facts.facing, facts.turn)) drawDial();
  if (changed("foot", facts.foot, facts.foot_next)) drawFoot();
  if (changed("floor", facts.floor)) drawFloor();
  if (changed("bar", facts.bar, facts.in_bar)) {
    part("bar").replaceChildren(...Array.from({ length: facts.bar || 0 }, (_, n) => element("i", n === facts.in_bar ? "now" : "")));
  }
  const places = [facts.moving, facts.moving || facts.label, !facts.coming, !facts.strip && !(facts.holds || []).length, (facts.order || []).length, !(facts.easier || []).length];
  const laid = changed("laid", places) || again;
  putBig("coming", [facts.coming || ""], laid);
  putBig("call", none ? ["no class is running"] : facts.call, laid);
  // What comes next never stands out over what is danced now.
  const most = Math.max(parseFloat(part("call").style.fontSize), GOOD * innerHeight);
  putBig("next", none ? ["it shows here once one starts"] : facts.next, laid, most);
  putBig("easier", facts.easier || [], laid);
  putBig("count", [facts.count || ""], laid);
  putBig("clock", [facts.clock || ""], laid);
}

let heard = performance.now();
function listen() {
  const source = new EventSource("events" + location.search);
  source.onmessage = (event) => { heard = performance.now(); put("lost", ""); facts = JSON.parse(event.data); show(false); };
  source.addEventListener("alive", () => { heard = performance.now(); put("lost", ""); });
  source.onerror = () => {
    put("lost", "No word from the caller: trying again.");
    if (source.readyState === EventSource.CLOSED) setTimeout(() => { source.close(); listen(); }, 1000);
  };
}
setInterval(() => { if (performance.now() - heard > QUIET_MS) put("lost", "No word from the caller: trying again."); }, 500);
addEventListener("resize", () => show(true));
show(true);
listen();
