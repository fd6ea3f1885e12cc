// Small conveniences; every page works without them.
"use strict";

// Ask before forms that cannot simply be repeated.
document.addEventListener("submit", (event) => {
  const question = event.target.dataset.ask;
  if (question && !window.confirm(question)) {
    event.preventDefault();
  }
});

// Print buttons.
document.addEventListener("click", (event) => {
  if (event.target.closest("[data-print]")) {
    window.print();
  }
});

// After a refusal: whatever is folded round a mistake is opened, and the focus goes to the first thing to mend.
(() => {
  const wrong = "main form .alert.danger, main .wrong :is(input, select, textarea):not([type=hidden]), main [aria-invalid=true], main .error";
  document.querySelectorAll("main details:not([open])").forEach((folded) => {
    folded.open = folded.querySelector(".wrong, .error") !== null;
  });
  const first = document.querySelector(wrong);
  if (first) {
    if (!first.matches("input, select, textarea")) {
      first.tabIndex = -1;
    }
    first.focus();
  }
})();

// Escape folds what a summary opened, unless something is being typed in it.
document.addEventListener("keydown", (event) => {
  const open = event.key === "Escape" && !event.defaultPrevented && !event.target.closest("input, select, textarea") && event.target.closest("details[open]");
  if (open) {
    open.open = false;
    open.querySelector("summary").focus();
  }
});

// A stale edit: the form is read again, so that what stands now is shown beside what was typed, under the form's own labels.
(async () => {
  const table = document.querySelector("[data-stands-at]");
  if (!table) {
    return;
  }
  const answer = await fetch(table.dataset.standsAt);
  if (!answer.ok) {
    return;
  }
  const form = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector("main");
  const words = (field, value) => {
    const option = field.options && [...field.options].find((each) => each.value === value);
    return option ? option.textContent.trim() : value;
  };
  for (const line of table.tBodies[0].rows) {
    const fields = [...form.querySelectorAll(`[name="${CSS.escape(line.dataset.name)}"]`)];
    const field = fields.find((each) => each.type !== "radio" || each.checked);
    if (!field) {
      continue;
    }
    const label = field.id && form.querySelector(`label[for="${CSS.escape(field.id)}"]`);
    if (label) {
      line.cells[0].textContent = label.textContent.trim();
    }
    const stands = field.type === "checkbox" && !field.checked ? "" : field.value;
    const differs = stands !== line.cells[1].textContent;
    line.cells[1].textContent = words(field, line.cells[1].textContent);
    line.cells[2].textContent = (differs ? "≠ " : "= ") + (words(field, stands) || "–");
  }
  table.querySelectorAll("[hidden]").forEach((cell) => cell.removeAttribute("hidden"));
})();
