/* Forms that can wait for signal: caught, put into the queue, sent at once where that goes, else shown as waiting.

The page's head says to which addresses forms may be sent late; such a form has a field `id`. Without script, or where the page is
not served securely, forms are sent as browsers always did, and nothing here is missed but the waiting. */
"use strict";
(() => {
  const person = document.querySelector('meta[name="person"]')?.content;
  if (person === undefined || !isSecureContext || !navigator.serviceWorker || !globalThis.kailyard) return;
  const queue = globalThis.kailyard, root = document.documentElement, menu = document.querySelector(".menu ul");
  const SAID = "kailyard-said", FRESHENED = "kailyard-freshened", FRESH_MS = 600_000, AGAIN_MS = 30_000, SOON_MS = 2500;
  /* '/check/{planting}' stands for every planting. */
  const addresses = document.querySelector('meta[name="waits"]').content.split(" ")
    .map(path => new RegExp(`^${path.replace(/\{\w+\}/g, "[^/]+")}$`));
  const asOf = root.dataset.asOf;
  let again = /^#waiting=([\w-]+)$/.exec(location.hash)?.[1];

  /* One line above the page, read out; `more`: a link behind it. */
  const say = (words, { kind = "message", more } = {}) => {
    document.querySelector("#said")?.remove();
    const line = document.createElement("p");
    line.id = "said";
    line.className = kind;
    line.tabIndex = -1;
    line.setAttribute("role", kind === "problem" ? "alert" : "status");
    line.textContent = more ? `${words} ` : words;
    if (more) line.append(link(...more));
    document.querySelector("main").before(line);
    return line;
  };
  const link = (words, address) => {
    const made = document.createElement("a");
    made.textContent = words;
    made.href = address;
    return made;
  };

  const showCount = async () => {
    const mine = (await queue.all()).filter(item => item.person === person).length;
    let place = menu?.querySelector(".waiting");
    if (!mine) return place?.remove();
    if (!place) {
      place = document.createElement("li");
      place.className = "waiting";
      menu?.append(place);
    }
    const words = link(`${mine} waiting`, "/waiting");
    if (location.pathname === "/waiting") words.setAttribute("aria-current", "page");
    place.replaceChildren(words);
  };

  /* What a form says, as [label, value] pairs that a person recognises. */
  const labelOf = field => {
    const label = field.labels?.[0]?.cloneNode(true);
    label?.querySelectorAll("input, select, textarea, .hint").forEach(part => part.remove());
    return field.getAttribute("aria-label") ?? label?.textContent.replace(/\s+/g, " ").trim() ?? "";
  };
  const shown = form => [...form.elements].flatMap(field => {
    if (!field.name || !field.value || field.type === "hidden" || field.matches("button, fieldset")) return [];
    if (field.matches('[type="checkbox"], [type="radio"]')) return field.checked ? [[labelOf(field), "yes"]] : [];
    return [[labelOf(field), field.selectedOptions ? field.selectedOptions[0]?.textContent ?? "" : field.value]];
  });
  const titleOf = (form, button, { kind, target, of }) => {
    const unfolds = (button ?? form).closest("details")?.querySelector("summary");
    const title = button?.getAttribute("aria-label") ?? unfolds?.getAttribute("aria-label") ?? unfolds?.textContent
      ?? kind?.replaceAll("-", " ") ?? document.title;
    const plain = title.replace(/\s+/g, " ").trim(), about = target || of;
    return about && !plain.includes(about) ? `${plain}, ${about}` : plain;
  };

  /* An element called 'id' or 'action' in a form hides the form's own; attributes do not lie. */
  const pathOf = form => new URL(form.getAttribute("action") ?? "", location).pathname;
  const canWait = form => form.method === "post" && addresses.some(each => each.test(pathOf(form))) && form.elements.namedItem("id");

  /* A day that the page set by itself is left to the moment of typing: the page may be yesterday's. */
  const written = (form, button) => {
    const ours = form.elements.namedItem("happened")?.type === "hidden" ? ["token", "happened"] : ["token"];
    const fields = [...new FormData(form)].filter(([name, value]) => typeof value === "string" && !ours.includes(name));
    if (button?.name) fields.push([button.name, button.value]);
    const said = Object.fromEntries(fields), shows = shown(form);
    const title = titleOf(form, button, said);
    if (button?.value && !title.includes(button.textContent)) shows.push(["", button.textContent]);
    return {
      id: said.id, fields, title, person, to: pathOf(form), page: location.pathname + location.search, shows,
      typed: new Date().toISOString(), state: "waiting", reason: "",
    };
  };

  /* Under its identifier, unless something else waits under that. */
  const keep = async item => {
    const there = await queue.one(item.id);
    const same = there && JSON.stringify(there.fields) === JSON.stringify(item.fields);
    const kept = there && there.state === "waiting" && !same ? queue.renamed(item, queue.identifier()) : item;
    await queue.keep(kept, true);
    return kept;
  };

  document.addEventListener("submit", async event => {
    const form = event.target;
    if (event.defaultPrevented || form.dataset.native || !canWait(form)) return;
    event.preventDefault();
    let item = written(form, event.submitter);
    const says = plain(item.fields);
    if (busy.get(form) === says) return; // a second click
    if (busy.has(form)) item = queue.renamed(item, queue.identifier());
    busy.set(form, says);
    try {
      item = await (again ? inPlaceOf(again, item) : keep(item));
    } catch {
      return native(form, event.submitter); // no room, or storage is switched off: as without script
    }
    const sent = await Promise.race([queue.send(item.id), soon()]), answer = sent.answers[item.id];
    if (answer?.answer === "recorded") {
      if (answer.message) sessionStorage.setItem(SAID, answer.message);
      return location.assign(answer.to);
    }
    const typedOn = plain(written(form, event.submitter).fields) !== says;
    if (busy.get(form) === says) ready(form);
    if (answer) return say(answer.reason, { kind: "problem", more: ["Decide what becomes of it", "/waiting"] }).focus();
    if (!typedOn) form.reset();
    form.elements.namedItem("id").value = queue.identifier();
    if (!typedOn) (event.submitter ?? form).closest("details")?.removeAttribute("open");
    waits(sent, typedOn);
  });
  /* Forms on their way, with what they said: the same again is a second click, something else another entry. */
  const busy = new Map(), plain = fields => JSON.stringify(fields.filter(([name]) => name !== "id"));
  const ready = form => { busy.delete(form); delete form.dataset.sent; };
  const soon = () => new Promise(well => setTimeout(well, SOON_MS, { reached: false, answers: {} }));
  const native = (form, button) => {
    ready(form);
    form.dataset.native = "yes";
    form.requestSubmit(button ?? undefined);
  };
  const waits = (sent, typedOn) => {
    const more = sent.out ? ["Come in", "/login"] : ["See what waits", "/waiting"];
    const why = sent.out ? "Your session has ended." : "The garden's machine does not answer.";
    const line = say(`${why} The entry waits on this device.`, { more });
    if (!typedOn) line.focus();
    later();
  };
  const later = () => navigator.serviceWorker.ready.then(worker => worker.sync?.register("typed")).catch(() => undefined);

  /* An entry that waits is put right in the form it was typed in. */
  const inPlaceOf = async (id, item) => {
    again = undefined;
    history.replaceState(null, "", location.pathname + location.search);
    const old = await queue.one(id);
    if (!old) return keep(item);
    const right = queue.renamed({ ...item, typed: old.typed }, old.state === "conflict" ? queue.identifier() : old.id);
    await queue.keep(right, true);
    if (right.id !== old.id) await queue.drop(old.id);
    return right;
  };
  const fillIn = async id => {
    const item = await queue.one(id);
    const said = item && Object.fromEntries(item.fields);
    const form = item && [...document.forms].find(each => canWait(each) && pathOf(each) === item.to
      && ["kind", "target", "line", "of", "stage", "what"].every(name => hidden(each, name, said[name])));
    if (!form) return;
    for (const [name, value] of item.fields) {
      const field = form.elements.namedItem(name);
      if (field?.type === "checkbox") field.checked = true;
      else if (field && field.type !== "hidden" && field.tagName !== "BUTTON") field.value = value;
    }
    const field = [...form.elements].find(each => each.name && each.type !== "hidden");
    (field ?? form).closest("details")?.setAttribute("open", "");
    say(item.reason ? `${item.title}: ${item.reason}` : `${item.title}: put it right and send it again.`);
    field?.focus();
  };
  const hidden = (form, name, value) => {
    const field = form.elements.namedItem(name);
    return field?.type !== "hidden" || field.value === (value ?? "");
  };

  /* A line of the sheet that was answered without signal shows that it was. */
  const showAnswered = async () => {
    const mine = (await queue.all()).filter(item => item.person === person);
    document.querySelectorAll(".answers + .waits").forEach(each => each.remove());
    for (const place of document.querySelectorAll(".answers")) {
      const forms = [...place.querySelectorAll("[form]")].map(each => document.getElementById(each.getAttribute("form")));
      const lines = forms.map(form => form?.elements.namedItem("line")?.value);
      const item = mine.find(each => each.fields.some(([name, value]) => name === "line" && lines.includes(value)));
      place.hidden = Boolean(item);
      if (!item) continue;
      const verdict = item.fields.find(([name]) => name === "verdict")?.[1] ?? "answered";
      const words = link(item.state === "waiting" ? `${verdict}, waiting` : `${verdict}: not taken`, "/waiting");
      words.className = "waits small";
      place.after(words);
    }
  };
  const show = () => Promise.all([showCount(), showAnswered()]);

  const sendAll = async () => {
    const sent = await queue.send(), answers = Object.values(sent.answers);
    const well = answers.filter(each => each.answer === "recorded").length;
    if (well) {
      const words = well === 1 ? "The entry that waited is in the daybook." : `${well} entries that waited are in the daybook.`;
      say(words, { more: ["Show this page anew", location.pathname + location.search] });
      freshen(true);
    }
    if (answers.length > well) say(`${answers.length - well} could not be taken.`, { kind: "problem", more: ["Decide", "/waiting"] });
    if (!sent.reached) later();
    if (sent.out) say("Your session has ended; what waits goes when you are in again.", { more: ["Come in", "/login"] });
  };

  /* Have the worker keep what will be wanted without signal: the sheet, the forms, the plantings that they name. */
  const freshen = async now => {
    const last = Number(localStorage.getItem(FRESHENED) ?? 0);
    const worker = (await navigator.serviceWorker.ready).active;
    const files = performance.getEntriesByType("resource").map(each => each.name).filter(name => name.includes("/static/"));
    const due = now || !await caches.match("/enter") || Date.now() - last > FRESH_MS;
    if (due) localStorage.setItem(FRESHENED, String(Date.now()));
    const wanted = due ? ["/", "/waiting", "/enter", "/scouting", "/what"] : [];
    worker.postMessage({ keep: [location.pathname + location.search, ...files, ...wanted] });
  };

  addEventListener("online", sendAll);
  addEventListener("kailyard-changed", show);
  addEventListener("pageshow", event => {
    [...busy.keys()].forEach(ready);
    if (event.persisted) show();
  });
  queue.talk.addEventListener("message", show);
  setInterval(async () => {
    if (document.visibilityState === "visible" && (await queue.all()).some(item => item.state === "waiting")) sendAll();
  }, AGAIN_MS);

  const said = sessionStorage.getItem(SAID);
  sessionStorage.removeItem(SAID);
  if (said) say(said);
  if (asOf) for (const form of document.forms) if (canWait(form)) form.elements.namedItem("id").value = queue.identifier();
  navigator.serviceWorker.register("/static/worker.js", { scope: "/", updateViaCache: "none" })
    .then(() => asOf ? undefined : freshen(false)).catch(() => undefined);
  show().then(() => again ? fillIn(again) : sendAll()).catch(() => undefined);
  queue.page = { person, sendAll, say };
})();
