/* What waits, one by one: when it was typed, why it was not taken, and what the gardener makes of it. */
"use strict";
(() => {
  const queue = globalThis.kailyard, list = document.querySelector("#waiting"), none = document.querySelector("#none");
  if (!queue?.page || !list) return;
  const { person, sendAll } = queue.page;
  const STATES = { waiting: "waits for signal", refused: "Refused", conflict: "Conflict" };

  const el = (name, words = "", more = {}) => Object.assign(document.createElement(name), { textContent: words, ...more });
  const button = (words, title, act) => {
    const made = el("button", words, { type: "button", onclick: act });
    made.setAttribute("aria-label", `${words}: ${title}`);
    return made;
  };
  /* Where the garden's day is a pretended one, so is the day on which something was typed. */
  const ahead_ms = Number(document.querySelector('meta[name="ahead"]')?.content ?? 0) * 1000;
  const moment = text => new Date(Date.parse(text) + ahead_ms).toLocaleString("en-GB", { day: "numeric", month: "long", hour: "2-digit", minute: "2-digit" });

  const sendAgain = item => async () => {
    await queue.became(item.id, { state: "waiting", reason: "" });
    await sendAll();
  };
  const asAnother = item => async () => {
    await queue.keep({ ...queue.renamed(item, queue.identifier()), state: "waiting", reason: "" });
    await queue.drop(item.id);
    await sendAll();
  };
  const dropped = item => event => {
    const asked = event.currentTarget;
    if (asked.dataset.sure) return queue.drop(item.id);
    asked.dataset.sure = "yes";
    asked.textContent = "really drop it";
    asked.setAttribute("aria-label", `really drop it: ${item.title}`);
  };

  const row = item => {
    const made = el("li");
    const head = el("p");
    head.append(el("b", item.title), " ", el("span", `typed ${moment(item.typed)}`, { className: "soft" }));
    made.append(head);
    const says = item.shows.map(([label, value]) => `${label} ${value}`.trim()).join("; ");
    if (says) made.append(el("p", says));
    const reason = item.reason ? `${STATES[item.state]}: ${item.reason}` : STATES[item.state];
    made.append(el("p", reason, { className: item.state === "waiting" ? "soft" : "why-not" }));
    const acts = el("div", "", { className: "actions" });
    if (item.state === "refused") acts.append(button("send again", item.title, sendAgain(item)));
    if (item.state === "conflict") acts.append(button("enter it as another", item.title, asAnother(item)));
    const mend = el("a", "put right", { href: `${item.page}#waiting=${item.id}` });
    mend.setAttribute("aria-label", `put right: ${item.title}`);
    acts.append(mend, button("drop", item.title, dropped(item)));
    made.append(acts);
    return made;
  };

  none.textContent = "Nothing waits.";
  /* Made anew only when something is otherwise: a button half pressed stays under the finger. */
  let shown = "";
  const show = async () => {
    const all = await queue.all(), mine = all.filter(item => item.person === person), others = all.length - mine.length;
    if (shown === (shown = JSON.stringify(all))) return;
    none.hidden = mine.length > 0;
    list.replaceChildren(...mine.map(row));
    document.querySelector("#others").textContent = others
      ? `${others} of somebody else's ${others === 1 ? "waits" : "wait"} on this device until they are in.` : "";
    document.querySelector("#send").hidden = !mine.some(item => item.state === "waiting");
  };

  document.querySelector("#send").addEventListener("click", sendAll);
  addEventListener("kailyard-changed", show);
  queue.talk.addEventListener("message", show);
  show();
})();
