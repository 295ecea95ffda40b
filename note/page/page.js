// The page works without this script. With it the answer appears below the form,
// so that the chosen files stay chosen, and files may be dropped anywhere.
"use strict";

const form = document.getElementById("question");
const place = document.getElementById("answer");
const buttons = [...form.querySelectorAll("button")];
const slots = [document.getElementById("old"), document.getElementById("new")];

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  const button = event.submitter || buttons[0];
  const name = button.textContent;
  const to = button.getAttribute("formaction") || form.getAttribute("action");
  for (const one of buttons) {
    one.disabled = true;
  }
  button.textContent = "At work ...";
  try {
    const answer = await fetch(to + "?alone", { method: "POST", body: new FormData(form) });
    // The text is made and escaped by the program on this machine.
    place.innerHTML = await answer.text();
  } catch {
    place.textContent = "The program does not answer any more: start it again.";
  }
  for (const one of buttons) {
    one.disabled = false;
  }
  button.textContent = name;
  const target = document.getElementById("result") || document.getElementById("error");
  if (target) {
    target.scrollIntoView();
    target.focus();
  }
});

function put(slot, file) {
  const one = new DataTransfer();
  one.items.add(file);
  slot.files = one.files;
}

document.addEventListener("dragover", (event) => {
  event.preventDefault();
  for (const slot of slots) {
    slot.classList.toggle("over", event.target === slot);
  }
});

// One file goes to the field it is dropped on, or else to the first empty one;
// two files are the stock part and the redesign in this order.
document.addEventListener("drop", (event) => {
  event.preventDefault();
  for (const slot of slots) {
    slot.classList.remove("over");
  }
  const files = [...event.dataTransfer.files];
  if (files.length >= 2) {
    put(slots[0], files[0]);
    put(slots[1], files[1]);
  } else if (files.length === 1) {
    const free = slots.find((slot) => slot.files.length === 0) || slots[0];
    put(slots.includes(event.target) ? event.target : free, files[0]);
  }
});
