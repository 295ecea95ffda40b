// The parts as they are chosen: a view of each, or three views where there is no
// WebGL, and the places at which they may be held and loaded. What is picked is
// written into the form's own fields, in the words of the command line.
import { slots, value, words, setValue, make, unpack } from "/form.js";
import { forgetViews, newView, turnable, redraw, lookAgain } from "/view.js";

const viewing = document.getElementById("viewing").elements; // how the parts are looked at, no part of the question
const section = document.getElementById("parts");
const home = document.getElementById("parts-home");
const pair = document.getElementById("pair");
const picked = document.getElementById("picked");
const shading = document.getElementById("shading");
const bent = document.getElementById("bent");
const holeAs = document.getElementById("hole-as");
const moved = make("p", { className: "hint", id: "parts-moved", hidden: true });
moved.append(make("a", { href: "#view-here", textContent: "The parts are shown with the answer below." }));
home.after(moved);

// The fields that places of each part are written into.
const fields = {
  old: { fix: "fix", "load-at": "load-at" },
  new: { fix: "new-fix", "load-at": "new-load-at" },
};
const said = { fix: "held", "load-at": "loaded" };

let parts = []; // what is shown: {side, file, figure, head, view, lists}
let reading = 0; // the latest reading; earlier ones are dropped

// readParts shows the files as they are chosen now.
export async function readParts() {
  const mine = ++reading;
  const chosen = [];
  slots.forEach((slot) => [...slot.files].forEach((file, i) => chosen.push({ side: slot.id, sent: slot.id === "old" ? -1 : i, file })));
  section.hidden = chosen.length === 0;
  const solidly = await turnable();
  for (const id of ["look-again", "how-to-turn", "marking"]) { // there is nothing to turn or to click
    document.getElementById(id).hidden = !solidly;
  }
  forgetViews();
  const read = await Promise.all(chosen.map(readPart));
  if (mine !== reading) {
    return;
  }
  parts = read;
  pair.replaceChildren(...parts.map((part) => part.figure));
  goHome();
  marked();
  matchParts(mine);
}

// goHome takes the parts back to the form.
function goHome() {
  home.append(section);
  moved.hidden = true;
  shading.hidden = true;
  shadeAs("drawn");
}

// matchParts finds which place of each redesign takes which of the stock part.
async function matchParts(mine) {
  const old = parts.find((part) => part.side === "old" && part.head);
  for (const part of old ? parts.filter((one) => one.side === "new" && one.head) : []) {
    const sent = new FormData();
    for (const name of ["unit", "old-unit", "new-unit", "repair", "same-frame"]) {
      sent.append(name, value(name));
    }
    sent.append("old", old.file);
    sent.append("new", part.file);
    const answer = await fetch("/match", { method: "POST", body: sent }).catch(() => null);
    if (mine !== reading) {
      return;
    }
    part.matched = answer?.ok ? await answer.json() : [];
    marked();
  }
}

async function readPart(part) {
  const title = part.side === "old" ? "Stock part" : "Redesign";
  part.caption = make("figcaption", {}, make("strong", { textContent: title }), " " + part.file.name);
  part.figure = make("figure", { className: "part " + part.side }, part.caption);
  const sent = new FormData();
  for (const name of ["unit", "units", part.side + "-unit", "repair"]) {
    sent.append(name, value(name));
  }
  sent.append(part.side, part.file);
  const solidly = await turnable();
  let answer;
  try {
    answer = await fetch(solidly ? "/part" : "/part?views", { method: "POST", body: sent });
  } catch {
    answer = new Response("The program does not answer any more: start it again.", { status: 500 });
  }
  if (!answer.ok) {
    part.figure.append(make("p", { className: "bad", role: "alert", textContent: await answer.text() }));
    return part;
  }
  const packet = await unpack(answer);
  part.head = packet.head;
  part.caption.append(", " + part.head.size);
  if (solidly) {
    part.view = newView(title, packet, {
      pick: (index) => toggle(part, chosenUse(), part.head.places[index]),
      said: (index) => (index < 0 ? "" : part.head.places[index].label),
    });
    part.figure.append(part.view.stage, part.view.legend);
  } else {
    part.figure.append(make("div", { className: "scroll", tabIndex: 0, role: "region", "aria-label": "Three views of the " + title.toLowerCase() },
      make("img", { src: part.head.views, alt: part.head.views_alt })));
  }
  part.head.warnings.forEach((text) => part.figure.append(make("p", { className: "caution", textContent: text })));
  part.figure.append(placeList(part, title.toLowerCase()));
  return part;
}

const chosenUse = () => viewing.mark.value;

// wordOf is what a place is called when it is marked now.
const wordOf = (place) => (holeAs.value === "bore" && place.also ? place.also : place.word);

// names tells whether a word of a field means a place of the list.
function names(word, place) {
  const plain = word.toLowerCase().replace(/^washer:(\d+).*/, "hole:$1");
  return plain === place.word || plain === place.also;
}

// toggle marks a place as held or loaded, or takes the mark off.
function toggle(part, use, place) {
  const field = fields[part.side][use];
  const before = words(field);
  const rest = before.filter((word) => !names(word, place));
  setValue(field, (rest.length < before.length ? rest : [...rest, wordOf(place)]).join(" "));
}

// placeList offers every hole, outer round wall and larger face by name.
function placeList(part, title) {
  const rows = [];
  part.lists = [];
  for (const place of part.head.places.filter((one) => one.listed)) {
    const row = make("tr", {}, make("th", { scope: "row", textContent: place.label }));
    for (const use of ["fix", "load-at"]) {
      const box = make("input", { type: "checkbox", ariaLabel: `${place.label} of the ${title}: ${said[use]}` });
      box.addEventListener("change", () => toggle(part, use, place));
      box.addEventListener("keydown", (event) => {
        if (event.key === "Enter") {
          box.click();
        }
      });
      box.addEventListener("keypress", (event) => {
        if (event.key === "Enter") { // which would send the form
          event.preventDefault();
        }
      });
      part.lists.push({ box, use, place });
      row.append(make("td", {}, make("label", {}, box, " " + said[use])));
    }
    rows.push(row);
  }
  const list = make("details", { className: "places", open: part.side === "old" && rows.length <= 12 },
    make("summary", { textContent: `Places of the ${title} by name` }));
  if (part.side === "new") {
    list.append(make("p", { className: "hint", textContent: "Only where they are not those that match the stock part's." }));
  }
  list.append(make("table", {}, make("tbody", {}, ...rows)));
  return list;
}

// marked brings lists and symbols to what the fields say.
export function marked() {
  const told = [];
  for (const part of parts) {
    if (!part.head) {
      continue;
    }
    const marks = [];
    for (const use of ["fix", "load-at"]) {
      const field = fields[part.side][use];
      const all = words(field);
      part.lists.filter((one) => one.use === use).forEach((one) => {
        one.box.checked = all.some((word) => names(word, one.place));
      });
      all.forEach((word) => marks.push(markOf(part, use, word)));
      if (part.side === "new" && all.length === 0) {
        matching(part, use, words(fields.old[use])).forEach((one) => (one.why ? told.push(one.why) : marks.push(one)));
      }
      if (all.length > 0 && !(part.side === "new" && part.sent > 0)) {
        told.push(`${part.side === "old" ? "stock part" : "redesign"} ${said[use]} at ${all.join(", ")}`);
      }
    }
    part.view?.mark(marks.filter(Boolean), loadNow(part));
  }
  const text = told.length > 0 ? told.join("; ") + "." : "No place is marked: the part is held and loaded at its ends.";
  if (picked.textContent !== text) {
    picked.textContent = text;
  }
  redraw();
}

// matching are the places of a redesign that take those of the stock part.
function matching(part, use, named) {
  const old = parts.find((one) => one.side === "old" && one.head);
  const out = [];
  for (const word of old && part.matched ? named : []) {
    const from = old.head.places.findIndex((place) => names(word, place));
    const to = part.matched[from];
    if (to && to.index >= 0) {
      out.push(markOf(part, use, word.toLowerCase().startsWith("bore") ? part.head.places[to.index].also : part.head.places[to.index].word));
    } else if (to) {
      out.push({ why: `${word}: ${to.why}; mark its place there` });
    } else if (word.toLowerCase().startsWith("end:")) {
      out.push(markOf(part, use, word));
    }
  }
  return out.filter(Boolean);
}

// markOf finds where a word of a field is drawn.
function markOf(part, use, word) {
  const index = part.head.places.findIndex((place) => names(word, place));
  if (index >= 0) {
    const place = part.head.places[index];
    return { use, index, marks: word.toLowerCase().startsWith("bore") ? place.walls : place.marks };
  }
  const [kind, at, out] = word.toLowerCase().split(":");
  const point = vector(at ?? "");
  if (kind === "face" && point) {
    return { use, index: -1, marks: [{ at: point, out: vector(out ?? "") ?? [0, 0, 1] }] };
  }
  if (kind === "end") {
    return { use, index: -1, marks: [endOf(part, at === "high")] };
  }
  return null; // a box or a section: nothing of the surface to mark
}

function vector(text) {
  const v = text.split(",").map(parseFloat);
  return v.length === 3 && v.every(Number.isFinite) ? v : null;
}

// sides of the part's box, the longest first.
function axesOf(head) {
  return [0, 1, 2].sort((a, b) => head.high[b] - head.low[b] - (head.high[a] - head.low[a]));
}

function endOf(part, high) {
  const { head } = part;
  const span = value("span") ? "xyz".indexOf(value("span")) : axesOf(head)[0];
  const at = head.low.map((low, a) => (low + head.high[a]) / 2);
  at[span] = (high ? head.high : head.low)[span];
  const out = [0, 0, 0];
  out[span] = high ? 1 : -1;
  return { at, out };
}

// loadNow says which way the fields load a marked place, and with what.
function loadNow(part) {
  const force = vector(value("force"));
  const moment = vector(value("moment"));
  const loads = { force, moment, pressure: value("pressure") !== "" };
  if (!force && (value("load") || value("load-along") || !(moment || loads.pressure || value("acceleration")))) {
    const along = value("load-along") ? "xyz".indexOf(value("load-along")) : axesOf(parts[0]?.head ?? part.head)[2];
    loads.force = [0, 0, 0];
    loads.force[along] = 1;
  }
  return loads;
}

// showAnswer lets the view show what the solution found, beside the answer.
export async function showAnswer(step) {
  const here = document.getElementById("view-here");
  if (!here || !step.drawn?.length || !(await turnable())) {
    return;
  }
  await Promise.all(step.drawn.map(async (one) => {
    const part = parts.find((p) => p.sent === one.sent);
    const answer = await fetch(`/note/${step.id}/shape/${one.part}`);
    if (part?.view && answer.ok) {
      part.view.solved(await unpack(answer));
    }
  }));
  here.append(section);
  moved.hidden = false;
  shading.hidden = false;
  shadeAs("0");
}

// leaveAnswer takes the parts back to the form before another answer comes.
export function leaveAnswer() {
  goHome();
  parts.forEach((part) => part.view?.forget());
}

function shadeAs(what) {
  viewing.shade.value = what;
  shade();
}

function shade() {
  const what = viewing.shade.value;
  document.getElementById("seat").hidden = what !== "drawn";
  document.getElementById("marking").hidden = what !== "drawn" || document.getElementById("look-again").hidden;
  parts.forEach((part) => part.view?.shade(what, bent.checked));
  redraw();
}

shading.addEventListener("change", shade);
document.getElementById("look-again").addEventListener("click", lookAgain);
