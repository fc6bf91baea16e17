/* The queue of what was typed: kept in this browser until the garden's machine has answered for it.

Runs in pages and in the worker alike, so it is a plain script that leaves one name behind. A form goes into the queue
before it is first sent and leaves it when the answer is there; its identifier makes it one entry however often it is
sent. Whoever typed it is kept with it: nothing goes out under another name. */
"use strict";
(() => {
  const NAME = "kailyard", STORE = "typed", SEND = "/entries/typed", SESSION = "/api/session";
  const AT_ONCE = 50, PATIENCE_MS = 8000, SHORT_PATIENCE_MS = 4000;

  const done = request => new Promise((well, ill) => {
    request.onsuccess = () => well(request.result);
    request.onerror = () => ill(request.error);
  });

  let opened;
  const open = () => opened ??= new Promise((well, ill) => {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => request.result.createObjectStore(STORE, { keyPath: "id" });
    request.onerror = () => { opened = undefined; ill(request.error); };
    request.onsuccess = () => {
      request.result.onversionchange = request.result.onclose = () => { request.result.close(); opened = undefined; };
      well(request.result);
    };
  });

  /* `work` runs on the store; resolved once the whole transaction is on the disk. */
  const within = async (mode, work) => {
    const db = await open();
    const change = db.transaction(STORE, mode, { durability: "strict" });
    const kept = new Promise((well, ill) => {
      change.oncomplete = well;
      change.onabort = change.onerror = () => ill(change.error ?? new Error("Not kept."));
    });
    const answer = await work(change.objectStore(STORE));
    await kept;
    return answer;
  };

  /* What waits, oldest first. */
  const all = async () =>
    (await within("readonly", store => done(store.getAll()))).sort((a, b) => a.typed < b.typed ? -1 : 1);
  const one = id => within("readonly", store => done(store.get(id)));
  const drop = id => within("readwrite", store => done(store.delete(id))).then(changed);

  /* Keep one. Under a known identifier the first stays, so a second click changes nothing; `anew` puts it in its place. */
  const keep = (item, anew) => within("readwrite", async store => {
    if (anew || !await done(store.get(item.id))) await done(store.put(item));
  }).then(changed);

  /* Only what is still there is changed: somebody may have dropped it while it was being sent. */
  const became = (id, more) => within("readwrite", async store => {
    const item = await done(store.get(id));
    if (item) await done(store.put({ ...item, ...more }));
  });

  const talk = new BroadcastChannel(NAME);
  const changed = value => { talk.postMessage("changed"); dispatchEvent(new Event("kailyard-changed")); return value; };

  const ask = (address, patience, more) =>
    fetch(address, { ...more, cache: "no-store", redirect: "error", signal: AbortSignal.timeout(patience) });

  /* Who is in: {person, token}; {} where nobody is, null where the garden's machine cannot be reached. */
  const session = async () => {
    try {
      const answer = await ask(SESSION, SHORT_PATIENCE_MS);
      return answer.ok ? await answer.json() : answer.status === 401 ? {} : null;
    } catch { return null; }
  };

  const post = (token, items) => ask(SEND, PATIENCE_MS, {
    method: "POST",
    headers: { "Content-Type": "application/json", "X-Kailyard-Token": token },
    body: JSON.stringify(items.map(({ id, to, typed, fields }) => ({ id, to, typed, fields }))),
  });

  const apart = async run => {
    const held = await navigator.locks.request(NAME, run);
    changed();
    return held;
  };

  /* Send what waits, or the one called `only`. {reached, person, answers by identifier}. */
  const send = only => apart(async () => {
    const answers = {};
    const waits = async person => (await all()).filter(item => only ? item.id === only
      : item.person === person && item.state === "waiting");
    if (!(await all()).length) return { reached: true, answers };
    const who = await session();
    if (who === null) return { reached: false, answers };
    if (who.token === undefined) return { reached: true, out: true, answers };
    for (const items of parts(await waits(who.person))) {
      if (items.some(item => item.person !== who.person)) return { reached: true, person: who.person, answers };
      let answer;
      try { answer = await post(who.token, items); } catch { return { reached: false, answers }; }
      if (answer.status === 401 || answer.status === 403) return { reached: true, out: true, answers };
      if (!answer.ok) {
        const said = await answer.json().catch(() => ({}));
        const reason = said.error ?? `The garden's machine answered ${answer.status}.`;
        for (const item of items) await became(item.id, { reason });
        return { reached: answer.status < 500, person: who.person, answers };
      }
      for (const each of (await answer.json()).answers) {
        answers[each.id] = each;
        if (each.answer === "recorded") await within("readwrite", store => done(store.delete(each.id)));
        else await became(each.id, { state: each.answer, reason: each.reason });
      }
    }
    return { reached: true, person: who.person, answers };
  });

  const parts = items => {
    const made = [];
    for (let n = 0; n < items.length; n += AT_ONCE) made.push(items.slice(n, n + AT_ONCE));
    return made;
  };

  /* The same under another identifier is another entry. */
  const renamed = (item, id) => ({ ...item, id, fields: item.fields.map(([n, v]) => [n, n === "id" ? id : v]) });
  const identifier = () => crypto.randomUUID().replaceAll("-", "").slice(0, 20);

  globalThis.kailyard = { all, one, keep, drop, became, changed, send, session, renamed, identifier, talk };
})();
