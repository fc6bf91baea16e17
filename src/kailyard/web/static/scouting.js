// Counting by tapping: without this every number is typed. With it each has a button that takes one off and one that adds
// one, and what is found on more plants than were looked at raises those as well.
"use strict";
(() => {
  const number = field => Number.parseInt(field.value, 10) || 0;
  const label = field => field.closest("label").firstChild.textContent.trim();

  const add = (field, by) => {
    field.value = String(Math.max(number(field) + by, 0));
    const looked = field.form.elements.namedItem("looked_at"), on = field.form.elements.namedItem("found_on");
    if (number(on) > number(looked)) looked.value = on.value;
    field.dispatchEvent(new Event("input", { bubbles: true }));
  };
  const button = (field, by) => {
    const made = document.createElement("button");
    made.type = "button";
    made.className = "step";
    made.textContent = by < 0 ? "−" : "+";
    made.setAttribute("aria-label", `${by < 0 ? "one less" : "one more"}: ${label(field)}`);
    made.addEventListener("click", () => add(field, by));
    return made;
  };
  for (const field of document.querySelectorAll(".tap > input")) {
    const place = field.closest("label"), row = document.createElement("span");
    row.className = "taps";
    place.before(row);
    row.append(button(field, -1), place, button(field, 1));
  }
})();
