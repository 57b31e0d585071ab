"use strict";
(function () {
  const root = document.documentElement, body = document.body;
  const night = body.dataset.night, site = body.dataset.site, telescope = body.dataset.telescope;
  const key = "planner-sheet-log/1 " + JSON.stringify([night, site, telescope]);
  const lookKey = "planner-sheet look";
  const articles = Array.from(document.querySelectorAll("main article"));
  const list = document.getElementById("list"), main = document.querySelector("main");
  const footer = document.querySelector("footer"), tools = document.getElementById("tools");
  const heading = document.getElementById("title");
  const looks = ["night", "dim", "dimmest"];
  let entries = {}, here = -1;

  function say(id, words) { document.getElementById(id).textContent = words; }

  function trouble() {
    say("trouble", "This browser keeps nothing: what you enter is lost when the page is closed. " +
      "Save the log before you leave.");
  }

  function kept(name) {
    try { return window.localStorage.getItem(name); } catch (error) { trouble(); return null; }
  }

  function keep(name, text) {
    try {
      window.localStorage.setItem(name, text);
      if (window.localStorage.getItem(name) !== text) { trouble(); }
    } catch (error) { trouble(); }
  }

  function localTime() {
    const now = new Date(), pad = (n) => String(n).padStart(2, "0");
    const away = -now.getTimezoneOffset(), hours = Math.floor(Math.abs(away) / 60);
    return now.getFullYear() + "-" + pad(now.getMonth() + 1) + "-" + pad(now.getDate()) + "T" +
      pad(now.getHours()) + ":" + pad(now.getMinutes()) + ":" + pad(now.getSeconds()) +
      (away < 0 ? "-" : "+") + pad(hours) + ":" + pad(Math.abs(away) % 60);
  }

  function field(number, letter) {
    return document.querySelector('[name="' + letter + (number + 1) + '"]');
  }

  function chosen(number) {
    const found = document.querySelector('[name="o' + (number + 1) + '"]:checked');
    return found ? found.value : "";
  }

  function noted(number) {
    const id = articles[number].dataset.targetId, before = entries[id] || {};
    const entry = { outcome: chosen(number), done: field(number, "d").checked,
      note: field(number, "n").value, at: before.at || null };
    const changed = entry.outcome !== (before.outcome || "") || entry.done !== Boolean(before.done);
    if (changed || entry.at === null) { entry.at = localTime(); }
    if (!entry.outcome && !entry.done && !entry.note) { delete entries[id]; }
    else { entries[id] = entry; }
    keep(key, JSON.stringify(entries));
    show(number);
  }

  function show(number) {
    const entry = entries[articles[number].dataset.targetId];
    const words = !entry ? "" : [entry.done ? "done" : "", entry.outcome, entry.note ? "note" : ""]
      .filter(Boolean).join(", ");
    document.querySelector('[data-seen="' + (number + 1) + '"]').textContent = words;
  }

  function filled(number) {
    const entry = entries[articles[number].dataset.targetId] || {};
    field(number, "d").checked = Boolean(entry.done);
    field(number, "n").value = entry.note || "";
    document.querySelectorAll('[name="o' + (number + 1) + '"]').forEach(function (radio) {
      radio.checked = radio.value === (entry.outcome || "");
    });
    show(number);
  }

  function pick(article, view) {
    article.querySelectorAll("[data-view]").forEach(function (button) {
      button.setAttribute("aria-pressed", String(button.dataset.view === view));
    });
    article.querySelectorAll("[data-figure]").forEach(function (figure) {
      figure.hidden = figure.dataset.figure !== view;
    });
  }

  function turnTo(number, focus) {
    here = number >= 0 && number < articles.length ? number : -1;
    articles.forEach(function (article, other) { article.hidden = other !== here; });
    list.hidden = here >= 0;
    tools.hidden = here >= 0;
    footer.hidden = here >= 0;
    main.hidden = here < 0;
    root.dataset.at = here < 0 ? "list" : "target";
    window.scrollTo(0, 0);
    if (focus) { (here < 0 ? heading : articles[here].querySelector("h2")).focus(); }
  }

  function fromAddress(focus) {
    const found = /^#t(\d+)$/.exec(window.location.hash);
    turnTo(found ? Number(found[1]) - 1 : -1, focus);
  }

  function goTo(number) {
    const wanted = number < 0 || number >= articles.length ? "#list" : "#t" + (number + 1);
    if (window.location.hash === wanted) { fromAddress(true); } else { window.location.hash = wanted; }
  }

  function look(name) {
    root.dataset.look = name;
    document.querySelector('meta[name="theme-color"]').content =
      name === "white" ? "#ffffff" : "#000000";
    document.getElementById("white").textContent = name === "white" ? "Red page" : "White page";
    document.getElementById("dim").hidden = name === "white";
    document.getElementById("dim").textContent = name === "dimmest" ? "Brightest" : "Dimmer";
    keep(lookKey, name);
  }

  function saved() {
    const whole = { format: "planner-sheet-log/1", night: night, site: site, telescope: telescope,
      exported: localTime(), entries: [] };
    articles.forEach(function (article) {
      const entry = entries[article.dataset.targetId];
      if (!entry) { return; }
      const power = article.dataset.magnification;
      whole.entries.push({
        target_id: article.dataset.targetId, name: article.dataset.name,
        kind: article.dataset.kind, planned_start: article.dataset.plannedStart,
        eyepiece: article.dataset.eyepiece || null, magnification: power ? Number(power) : null,
        done: entry.done, outcome: entry.outcome || null, note: entry.note, at: entry.at });
    });
    const text = JSON.stringify(whole, null, 2) + "\n";
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
    link.download = "planner-log-" + night + ".json";
    link.hidden = true;
    body.appendChild(link);
    link.click();
    link.remove();
    say("told", "Saved " + whole.entries.length + " of " + articles.length + " targets as " +
      link.download + ", among your downloads.");
  }

  function typing(element) { return element && /^(TEXTAREA|INPUT)$/.test(element.tagName); }

  try { entries = JSON.parse(kept(key) || "{}") || {}; } catch (error) { entries = {}; }
  if (typeof entries !== "object" || Array.isArray(entries)) { entries = {}; }
  keep(key, JSON.stringify(entries));
  const wished = kept(lookKey);
  if (looks.concat("white").includes(wished)) { look(wished); }
  root.classList.add("live");
  document.querySelectorAll(".bar").forEach(function (bar) { bar.hidden = false; });
  articles.forEach(function (article, number) {
    filled(number);
    pick(article, "0");
    article.addEventListener("change", function () { noted(number); });
    article.addEventListener("input", function () { noted(number); });
    article.addEventListener("click", function (event) {
      const button = event.target.closest("button");
      if (!button) { return; }
      if (button.dataset.view) { pick(article, button.dataset.view); }
      if (button.dataset.step) { goTo(button.dataset.step === "0" ? -1 : number + Number(button.dataset.step)); }
    });
    const steps = article.querySelectorAll("[data-step]");
    steps[0].disabled = number === 0;
    steps[2].disabled = number === articles.length - 1;
  });
  document.getElementById("dim").addEventListener("click", function () {
    look(looks[(looks.indexOf(root.dataset.look) + 1) % looks.length]);
  });
  document.getElementById("white").addEventListener("click", function () {
    look(root.dataset.look === "white" ? "night" : "white");
  });
  document.getElementById("save").addEventListener("click", saved);
  window.addEventListener("hashchange", function () { fromAddress(true); });
  document.addEventListener("keydown", function (event) {
    if (typing(document.activeElement) || event.altKey || event.ctrlKey || event.metaKey) { return; }
    if (event.key === "ArrowRight" && here < articles.length - 1) { goTo(here + 1); }
    if (event.key === "ArrowLeft" && here >= 0) { goTo(here - 1); }
  });
  fromAddress(false);
}());
