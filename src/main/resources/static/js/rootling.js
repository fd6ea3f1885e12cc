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
