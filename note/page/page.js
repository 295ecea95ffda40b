// The page works without this script. With it both parts are shown as soon as their
// files are there, the answer appears below the form with its progress, and files may
// be dropped anywhere.
import { form, slots, value, setValue, make } from "/form.js";
import { readParts, showAnswer, leaveAnswer, marked } from "/parts.js";

const place = document.getElementById("answer");
const work = document.getElementById("work");
const done = document.getElementById("done");
const said = document.getElementById("work-said");
const buttons = [...form.querySelectorAll("button[type=submit]")];
let leave; // ends the question that is at work

const reveal = (root) => root.querySelectorAll(".scripted").forEach((one) => { one.hidden = false; });

form.addEventListener("submit", (event) => {
  const to = event.submitter?.getAttribute("formaction") || form.getAttribute("action");
  event.preventDefault();
  if (to === "/case") {
    saveCase();
  } else {
    ask(to);
  }
});

// ask sends the form and follows the lines of the answer: shares, then the note.
async function ask(to) {
  leave = new AbortController();
  buttons.forEach((one) => { one.disabled = true; });
  work.hidden = false;
  done.removeAttribute("value");
  said.textContent = "At work ...";
  try {
    const answer = await fetch(to + "?steps", { method: "POST", body: new FormData(form), signal: leave.signal });
    await lines(answer, (step) => {
      if (step.share) {
        done.value = Math.max(done.value, step.share);
        said.textContent = done.value < 0.995 ? "Solving: " + Math.round(100 * done.value) + " %" : "Drawing ...";
      }
      if (step.answer) {
        show(step);
      }
    });
  } catch {
    show({ said: leave.signal.aborted ? "Stopped; nothing was kept." : "The program does not answer any more: start it again." });
  }
  buttons.forEach((one) => { one.disabled = false; });
  work.hidden = true;
  said.textContent = "";
}

async function lines(answer, take) {
  const reader = answer.body.pipeThrough(new TextDecoderStream()).getReader();
  let rest = "";
  for (;;) {
    const { value: text, done: over } = await reader.read();
    if (over) {
      return;
    }
    const all = (rest + text).split("\n");
    rest = all.pop();
    all.forEach((line) => take(JSON.parse(line)));
  }
}

// show puts an answer, or what is said in place of one, below the form.
function show(step) {
  leaveAnswer();
  if (step.answer) {
    place.innerHTML = step.answer; // made and escaped by the program on this machine
    reveal(place);
    showAnswer(step);
  } else {
    place.replaceChildren(make("p", { id: "error", className: "lead", textContent: step.said }));
  }
  const target = document.getElementById("result") || document.getElementById("error");
  target?.scrollIntoView();
  target?.focus({ preventScroll: true });
}

document.getElementById("stop").addEventListener("click", () => leave?.abort());
place.addEventListener("click", (event) => {
  if (event.target.id === "print") {
    window.print();
  } else {
    event.target.closest("svg.figure")?.classList.toggle("large");
  }
});
place.addEventListener("keydown", (event) => {
  if (event.key === "Enter") {
    event.target.querySelector?.(":scope > svg.figure")?.classList.toggle("large");
  }
});

// The case file: its words fill the form, and the form is written as one.
const caseFile = document.getElementById("case-file");
const caseSaid = document.getElementById("case-said");

caseFile.addEventListener("change", async () => {
  if (caseFile.files.length === 0) {
    return;
  }
  const sent = new FormData();
  sent.append("case", caseFile.files[0]);
  const answer = await fetch("/case/open", { method: "POST", body: sent });
  if (!answer.ok) {
    caseSaid.textContent = await answer.text();
    caseSaid.className = "bad";
    return;
  }
  const { values, says } = await answer.json();
  for (const field of form.elements) {
    if (field.name && field.type !== "file") {
      field.value = "";
    }
  }
  for (const [name, text] of Object.entries(values)) {
    setValue(name, text);
  }
  caseSaid.textContent = says;
  caseSaid.className = "hint";
  readParts();
});

async function saveCase() {
  const sent = new FormData(form);
  for (const name of [...sent.keys()]) { // of files the names are enough
    if (form.elements[name]?.type === "file") {
      const names = sent.getAll(name).filter((file) => file.name).map((file) => file.name);
      sent.delete(name);
      names.forEach((one) => sent.append(name, new File([], one)));
    }
  }
  const answer = await fetch("/case", { method: "POST", body: sent });
  const text = await answer.text();
  if (!answer.ok) {
    caseSaid.textContent = text;
    caseSaid.className = "bad";
    caseFile.focus();
    return;
  }
  const link = make("a", { href: URL.createObjectURL(new Blob([text], { type: "application/toml" })), download: "case.toml" });
  link.click();
  URL.revokeObjectURL(link.href);
}

// Files: chosen, or dropped anywhere.
function put(slot, files) {
  const all = new DataTransfer();
  files.forEach((file) => all.items.add(file));
  slot.files = all.files;
}

document.addEventListener("dragover", (event) => {
  event.preventDefault();
  for (const slot of slots) {
    slot.classList.toggle("over", event.target === slot);
  }
});

// Files dropped on a field go there. Elsewhere one goes to the first empty field, and
// of several the first is the stock part.
document.addEventListener("drop", (event) => {
  event.preventDefault();
  slots.forEach((slot) => slot.classList.remove("over"));
  const all = [...event.dataTransfer.files];
  const files = all.filter((file) => !file.name.toLowerCase().endsWith(".toml"));
  if (files.length < all.length) {
    put(caseFile, all.filter((file) => !files.includes(file)).slice(0, 1));
    caseFile.dispatchEvent(new Event("change"));
  }
  if (files.length === 0) {
    return;
  }
  if (event.target === slots[1]) {
    put(slots[1], files);
  } else if (files.length > 1) {
    put(slots[0], files.slice(0, 1));
    put(slots[1], files.slice(1));
  } else {
    const free = slots.find((slot) => slot.files.length === 0) || slots[0];
    put(slots.includes(event.target) ? event.target : free, files);
  }
  readParts();
});

for (const slot of slots) {
  slot.addEventListener("change", readParts);
}
for (const name of ["unit", "units", "old-unit", "new-unit", "repair", "same-frame"]) {
  form.elements[name].addEventListener("change", readParts);
}
form.addEventListener("input", marked);

reveal(document);
if (slots.some((slot) => slot.files.length > 0)) { // kept by the browser over a reload
  readParts();
}
