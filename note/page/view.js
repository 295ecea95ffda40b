// A part in a stage that can be turned: a picture drawn by three.js, with the numbers
// of holes and the axes written over it. All stages are turned together and drawn to
// one scale. three.js is asked for only where the browser has WebGL.
import { make } from "/form.js";

let scene = null; // the module that draws; null where nothing can be drawn
let asked = null;

// turnable tells whether parts can be shown to be turned.
export function turnable() {
  asked ??= load();
  return asked;
}

async function load() {
  if (!document.createElement("canvas").getContext("webgl2")) {
    return false;
  }
  try {
    scene = await import("/scene.js");
    return true;
  } catch {
    return false;
  }
}

const views = new Set();

// lookAgain goes back to how the parts were seen first.
export function lookAgain() {
  scene.eye.reset();
  redraw();
}

let waiting = false;

// redraw draws all stages once, before the next picture of the screen.
export function redraw() {
  if (!waiting && scene) {
    waiting = true;
    requestAnimationFrame(() => {
      waiting = false;
      drawAll();
    });
  }
}

function drawAll() {
  const shown = [...views].filter((view) => view.stage.isConnected);
  const scale = Math.min(...shown.map((view) => view.fitting()));
  shown.forEach((view) => view.draw(scale));
}

// forgetViews makes room for the parts that are read next.
export function forgetViews() {
  views.forEach((view) => {
    resized.unobserve(view.stage);
    view.part.free();
  });
  views.clear();
}

// newView shows a part. heard is told of clicks: pick(index of a place), and gives the
// words of one: said(index).
export function newView(title, packet, heard) {
  const view = new View(title, packet, heard);
  views.add(view);
  resized.observe(view.stage);
  return view;
}

const resized = new ResizeObserver(redraw);
matchMedia("(prefers-color-scheme: dark)").addEventListener("change", redraw);

// On paper the pictures are drawn for paper.
addEventListener("beforeprint", () => onPaper(true));
addEventListener("afterprint", () => onPaper(false));

function onPaper(yes) {
  document.documentElement.classList.toggle("paper", yes);
  if (scene) {
    drawAll();
  }
}

const step = Math.PI / 18; // a turn by an arrow key, 10 degrees
const near = 1.2; // how much nearer one step brings

class View {
  constructor(title, packet, heard) {
    this.heard = heard;
    this.part = new scene.Part(packet);
    this.canvas = make("canvas", { role: "img", ariaLabel: `${title}, ${packet.head.size}` });
    this.notes = make("div", { className: "notes" });
    this.words = make("p", { className: "pointed" });
    this.stage = make("div", {
      className: "stage", tabIndex: 0, role: "application", ariaLabel: `${title} to turn`, "aria-describedby": "how-to-turn",
    }, this.canvas, this.notes, this.words);
    this.ramp = make("canvas", { className: "ramp", width: 300, height: 12, role: "img" });
    this.ticks = make("div", { className: "ticks" });
    this.rampTitle = make("p", { className: "hint" });
    this.rampSaid = make("p", { className: "hint" });
    this.legend = make("div", { className: "legend", hidden: true }, this.rampTitle, this.ramp, this.ticks, this.rampSaid);
    this.numbers = new Map();
    this.label();
    this.listen();
  }

  // label writes the holes' numbers and the axes as elements over the picture.
  label() {
    const write = (tag, className, text, properties) => {
      const note = make(tag, { className, textContent: text, ...properties });
      this.notes.append(note);
      return note;
    };
    this.part.head.places.forEach((place, index) => {
      if (place.number) {
        // The list has the same for the keyboard; here it would be a stop for every hole.
        const note = write("button", "number", place.number, { type: "button", tabIndex: -1, ariaLabel: place.label, title: place.label });
        note.addEventListener("click", () => this.heard.pick(index));
        this.numbers.set(place.number, note);
      }
    });
    this.axes = ["x", "y", "z"].map((name) => write("span", "axis", name));
  }

  // fitting is how many pixels a millimetre may have for the part to fit.
  fitting() {
    const { clientWidth: w, clientHeight: h } = this.stage;
    return this.part.fitting(w, h);
  }

  draw(scale) {
    const { clientWidth: w, clientHeight: h } = this.stage;
    if (w === 0 || h === 0) {
      return;
    }
    this.part.draw(this.canvas, w, h, scale);
    const put = (note, at) => { // as shares, which hold on paper too
      note.style.left = `${(100 * at.x) / w}%`;
      note.style.top = `${(100 * at.y) / h}%`;
    };
    for (const { number, at, away } of this.part.holes()) {
      const note = this.numbers.get(number);
      if (note) {
        put(note, at);
        note.classList.toggle("away", away);
      }
    }
    this.part.axisEnds().forEach((at, a) => put(this.axes[a], at));
  }

  mark(marks, loads) {
    this.part.mark(marks, loads);
    const used = (index) => marks.filter((one) => one.index === index).map((one) => one.use);
    this.part.head.places.forEach((place, index) => {
      const note = this.numbers.get(place.number);
      if (place.number && note) {
        note.classList.toggle("held", used(index).includes("fix"));
        note.classList.toggle("loaded", used(index).includes("load-at"));
      }
    });
  }

  // solved keeps what a solution found of the part, until it is forgotten.
  solved(packet) {
    this.part.solved(packet);
  }

  forget() {
    this.part.forget();
    this.shade("drawn", false);
  }

  // shade colours the part by scale "0" or "1" of the solution, or shows it as drawn.
  shade(what, bent) {
    const solution = this.part.shade(what, bent);
    this.legend.hidden = !solution;
    if (!solution) {
      return;
    }
    const scale = solution.scales[Number(what)];
    this.rampTitle.textContent = scale.title;
    this.rampSaid.textContent = `${solution.said}` + (bent ? `; movement enlarged ${solution.times} times, faint lines: at rest` : "");
    this.ramp.setAttribute("aria-label", `${scale.title}: from ${scale.marks[0].text} to ${scale.marks.at(-1).text}`);
    const paint = this.ramp.getContext("2d");
    const colours = paint.createLinearGradient(0, 0, this.ramp.width, 0);
    solution.ramp.forEach((colour, i) => colours.addColorStop(i / (solution.ramp.length - 1), colour));
    paint.fillStyle = colours;
    paint.fillRect(0, 0, this.ramp.width, this.ramp.height);
    this.ticks.replaceChildren(...scale.marks.map((mark) => {
      const tick = make("span", { textContent: mark.text });
      tick.style.left = `${100 * mark.share}%`;
      tick.className = mark.share === 0 ? "first" : mark.share === 1 ? "last" : "";
      return tick;
    }));
  }

  listen() {
    const { stage } = this;
    const held = new Map(); // pointers that are down, by their id
    let travelled = 0;
    stage.addEventListener("pointerdown", (event) => {
      if (event.target.closest("button")) {
        return;
      }
      travelled = held.size > 0 ? Infinity : 0;
      held.set(event.pointerId, event);
      stage.setPointerCapture(event.pointerId);
    });
    stage.addEventListener("pointermove", (event) => {
      const before = held.get(event.pointerId);
      if (!before) {
        this.point(event);
        return;
      }
      held.set(event.pointerId, event);
      this.drag(before, event, [...held.values()]);
      travelled += Math.hypot(event.clientX - before.clientX, event.clientY - before.clientY);
    });
    const let_go = (event) => {
      if (held.delete(event.pointerId) && event.type === "pointerup" && travelled < 4) { // pixels: a click, no drag
        const index = this.part.placeAt(...this.within(event));
        if (index >= 0) {
          this.heard.pick(index);
        }
      }
    };
    stage.addEventListener("pointerup", let_go);
    stage.addEventListener("pointercancel", let_go);
    stage.addEventListener("pointerleave", () => this.point(null));
    stage.addEventListener("wheel", (event) => {
      event.preventDefault();
      scene.eye.nearer(Math.exp(-event.deltaY / 500));
      redraw();
    }, { passive: false });
    stage.addEventListener("keydown", (event) => this.key(event));
  }

  drag(before, now, pointers) {
    const dx = now.clientX - before.clientX;
    const dy = now.clientY - before.clientY;
    if (pointers.length === 2) {
      const other = pointers.find((one) => one.pointerId !== now.pointerId);
      const apart = (one) => Math.hypot(one.clientX - other.clientX, one.clientY - other.clientY);
      scene.eye.nearer(apart(now) / Math.max(apart(before), 1));
      scene.eye.shift(dx / 2, dy / 2);
    } else if (now.shiftKey) {
      scene.eye.shift(dx, dy);
    } else {
      scene.eye.turn(dx / 120, dy / 120);
    }
    redraw();
  }

  key(event) {
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (event.target !== this.stage || event.ctrlKey || event.altKey || event.metaKey) {
      return;
    }
    if (way && event.shiftKey) {
      scene.eye.shift(20 * way[0], 20 * way[1]);
    } else if (way) {
      scene.eye.turn(step * way[0], step * way[1]);
    } else if (event.key === "+" || event.key === "=") {
      scene.eye.nearer(near);
    } else if (event.key === "-") {
      scene.eye.nearer(1 / near);
    } else if (event.key === "Home") {
      scene.eye.reset();
    } else {
      return;
    }
    event.preventDefault();
    redraw();
  }

  // point says what lies under the pointer and lights it up.
  point(event) {
    const index = event && event.pointerType === "mouse" && this.part.quick() ? this.part.placeAt(...this.within(event)) : -1;
    this.words.textContent = this.heard.said(index);
    this.stage.classList.toggle("over", index >= 0);
    if (this.part.light(index)) {
      redraw();
    }
  }

  within(event) {
    const box = this.stage.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  }
}
