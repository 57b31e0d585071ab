"use strict";
(function () {
  const root = document.documentElement;
  const lookKey = "planner-sheet look", looks = ["night", "dim", "dimmest"];
  const atTarget = /^#t(\d+)$/;
  const whiteWaits = 4000; // milliseconds for the second tap

  // Before the first frame: no list where a target is asked for, no light brighter than wished.
  root.classList.add("live");
  root.dataset.at = atTarget.test(window.location.hash) ? "target" : "list";
  try {
    const wished = window.localStorage.getItem(lookKey);
    if (looks.includes(wished)) { root.dataset.look = wished; }
  } catch (error) { root.dataset.look = "night"; }
  document.addEventListener("DOMContentLoaded", begin);

  function localTime() {
    const now = new Date(), pad = (n) => String(n).padStart(2, "0");
    const away = -now.getTimezoneOffset(), hours = Math.floor(Math.abs(away) / 60);
    return now.getFullYear() + "-" + pad(now.getMonth() + 1) + "-" + pad(now.getDate()) + "T" +
      pad(now.getHours()) + ":" + pad(now.getMinutes()) + ":" + pad(now.getSeconds()) +
      (away < 0 ? "-" : "+") + pad(hours) + ":" + pad(Math.abs(away) % 60);
  }

  function begin() {
    const body = document.body, byId = (id) => document.getElementById(id);
    const night = body.dataset.night, site = body.dataset.site, telescope = body.dataset.telescope;
    const key = "planner-sheet-log/1 " + JSON.stringify([night, site, telescope]);
    const articles = Array.from(document.querySelectorAll("main article"));
    let entries = new Map(), here = -1, lost = false, whiteTimer = 0;

    function say(id, words) { byId(id).textContent = words; }

    function trouble() {
      lost = true;
      say("trouble", "This browser keeps nothing: what you enter is lost when the page is " +
        "closed. Save the log before you leave.");
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

    // A list of whole rows, so that a sheet made anew for the same night saves the older looks too.
    function read() {
      const text = kept(key);
      try {
        entries = new Map(JSON.parse(text || "[]").map((row) => [String(row.target_id), row]));
      } catch (error) {
        entries = new Map();
        keep(key + " set aside " + localTime(), text);
        say("trouble", "What this browser had kept of this night cannot be read; it is set aside.");
      }
    }

    function field(number, letter) {
      return document.querySelector('[name="' + letter + (number + 1) + '"]');
    }

    function chosen(number) {
      const found = document.querySelector('[name="o' + (number + 1) + '"]:checked');
      return found ? found.value : "";
    }

    function noted(number, changed) {
      const told = articles[number].dataset, before = entries.get(told.targetId);
      const word = chosen(number), note = field(number, "n").value;
      // A word or the first note is a look: it ticks the target, which may be taken back.
      if ((changed.type === "radio" && word) || (changed.tagName === "TEXTAREA" && !before && note)) {
        field(number, "d").checked = true;
      }
      const done = field(number, "d").checked;
      const same = before && before.outcome === word && before.done === done;
      if (!word && !done && !note) { entries.delete(told.targetId); }
      else {
        entries.set(told.targetId, {
          target_id: told.targetId, name: told.name, kind: told.kind,
          planned_start: told.plannedStart, eyepiece: told.eyepiece || null,
          magnification: told.magnification ? Number(told.magnification) : null,
          done: done, outcome: word, note: note, at: same ? before.at : localTime() });
      }
      keep(key, JSON.stringify(Array.from(entries.values())));
      show(number);
    }

    function show(number) {
      const entry = entries.get(articles[number].dataset.targetId);
      const words = !entry ? "" :
        [entry.done ? "done" : "", entry.outcome, entry.note ? "note" : ""].filter(Boolean).join(", ");
      document.querySelector('[data-seen="' + (number + 1) + '"]').textContent = words;
    }

    function filled(number) {
      const entry = entries.get(articles[number].dataset.targetId) || {};
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
      articles.forEach(function (article, other) { article.classList.toggle("here", other === here); });
      root.dataset.at = here < 0 ? "list" : "target";
      window.scrollTo(0, 0);
      if (focus) { (here < 0 ? byId("title") : articles[here].querySelector("h2")).focus(); }
    }

    function fromAddress(focus) {
      const found = atTarget.exec(window.location.hash);
      turnTo(found ? Number(found[1]) - 1 : -1, focus);
    }

    function goTo(number) {
      const wanted = number < 0 || number >= articles.length ? "#list" : "#t" + (number + 1);
      if (window.location.hash === wanted) { fromAddress(true); } else { window.location.hash = wanted; }
    }

    // The planned targets whose start is the last one past are marked in the list.
    function markNow() {
      const now = Date.now(), day = 86400000;
      const starts = articles.map((article) => Date.parse(article.dataset.plannedStart));
      const last = Math.max(...starts.filter((start) => start <= now && now - start < day / 12));
      starts.forEach(function (start, number) {
        document.querySelector('[data-now="' + (number + 1) + '"]').textContent =
          start === last ? "now" : "";
      });
    }

    function look(name) {
      const white = name === "white";
      root.dataset.look = name;
      document.querySelector('meta[name="theme-color"]').content = white ? "#ffffff" : "#000000";
      say("white", white ? "Red page" : "White page");
      byId("dim").hidden = white;
      say("dim", name === "dimmest" ? "Brightest" : "Dimmer");
    }

    // White light costs half an hour of dark adaptation: it asks for a second tap, and is never
    // kept, so that the page always opens red.
    function white() {
      window.clearTimeout(whiteTimer);
      if (root.dataset.look === "white") { look(kept(lookKey) || "night"); return; }
      if (whiteTimer) { whiteTimer = 0; look("white"); return; }
      say("white", "White: tap again");
      whiteTimer = window.setTimeout(function () {
        whiteTimer = 0;
        look(root.dataset.look);
      }, whiteWaits);
    }

    function saved() {
      const whole = { format: "planner-sheet-log/1", night: night, site: site, telescope: telescope,
        exported: localTime(), entries: [] };
      entries.forEach(function (row) {
        whole.entries.push({
          target_id: row.target_id, name: row.name, kind: row.kind,
          planned_start: row.planned_start, eyepiece: row.eyepiece,
          magnification: row.magnification, done: row.done, outcome: row.outcome || null,
          note: row.note, at: row.at });
      });
      const text = JSON.stringify(whole, null, 2) + "\n";
      const link = document.createElement("a");
      link.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
      link.download = "planner-log-" + night + ".json";
      link.hidden = true;
      body.appendChild(link);
      link.click();
      link.remove();
      byId("copy").hidden = false;
      byId("copy").querySelector("textarea").value = text;
      const count = whole.entries.length;
      say("told", "Saved " + count + (count === 1 ? " target as " : " targets as ") +
        link.download + ", among your downloads.");
    }

    function typing(element) { return element && /^(TEXTAREA|INPUT)$/.test(element.tagName); }

    read();
    keep(key, JSON.stringify(Array.from(entries.values())));
    look(root.dataset.look);
    document.querySelectorAll(".bar").forEach(function (bar) { bar.hidden = false; });
    articles.forEach(function (article, number) {
      filled(number);
      pick(article, "0");
      article.addEventListener("input", function (event) { noted(number, event.target); });
      article.addEventListener("click", function (event) {
        const button = event.target.closest("button");
        if (!button) { return; }
        if (button.dataset.view) { pick(article, button.dataset.view); }
        if (button.dataset.step) {
          goTo(button.dataset.step === "0" ? -1 : number + Number(button.dataset.step));
        }
      });
      const steps = article.querySelectorAll("[data-step]");
      steps[0].disabled = number === 0;
      steps[2].disabled = number === articles.length - 1;
    });
    byId("dim").addEventListener("click", function () {
      look(looks[(looks.indexOf(root.dataset.look) + 1) % looks.length]);
      keep(lookKey, root.dataset.look);
    });
    byId("white").addEventListener("click", white);
    byId("save").addEventListener("click", saved);
    window.addEventListener("hashchange", function () { fromAddress(true); });
    window.addEventListener("storage", function (event) { // the same page in another tab
      if (event.key === key) { read(); articles.forEach((article, number) => filled(number)); }
    });
    window.addEventListener("beforeunload", function (event) {
      if (lost && entries.size) { event.preventDefault(); }
    });
    document.addEventListener("keydown", function (event) {
      if (typing(document.activeElement) || event.altKey || event.ctrlKey || event.metaKey) { return; }
      if (event.key === "ArrowRight" && here < articles.length - 1) { goTo(here + 1); }
      if (event.key === "ArrowLeft" && here >= 0) { goTo(here - 1); }
    });
    markNow();
    window.setInterval(markNow, 30000);
    fromAddress(false);
  }
}());
