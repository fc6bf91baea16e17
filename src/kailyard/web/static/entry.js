// Every form here works without this. With it: the field of a form that unfolds is ready to be typed in, and a form
// that is on its way is not sent again.
"use strict";

document.addEventListener("toggle", (event) => {
  const opened = event.target;
  if (!(opened instanceof HTMLDetailsElement) || !opened.open) return;
  if (!opened.closest(".answers, .quick")) return;
  const field = opened.querySelector("input:not([type=hidden]):not([type=checkbox]), button");
  if (field) {
    field.focus();
    if (field instanceof HTMLInputElement && field.value && field.type !== "date") field.select();
  }
}, true);

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.classList.contains("entry")) return;
  if (form.dataset.sent) {
    event.preventDefault();
    return;
  }
  form.dataset.sent = "yes";
});

// A page that comes back from the browser's store may be sent anew: its identifiers still make it one entry.
window.addEventListener("pageshow", () => {
  for (const form of document.querySelectorAll("form[data-sent]")) delete form.dataset.sent;
});
