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
