// Finds the entry of the goods list as one types its number or a part of its name: a combobox with a list.
"use strict";
(() => {
  let asked = 0;
  const listOf = (field) => document.getElementById(field.getAttribute("aria-controls"));
  const options = (field) => [...listOf(field).children];
  const whole = (text) => /^\s*(UN|NA|ID)?\s*[0-9]{4}\s*$/i.test(text);

  function close(field) {
    listOf(field).hidden = true;
    field.setAttribute("aria-expanded", "false");
    field.removeAttribute("aria-activedescendant");
  }

  async function offer(field) {
    const mine = ++asked, text = field.value.trim();
    if (text.length < 2) { close(field); return; }
    const answer = await fetch(`/entries?q=${encodeURIComponent(text)}`);
    const html = answer.ok ? await answer.text() : "";
    if (mine !== asked || document.activeElement !== field) return;
    const page = new DOMParser().parseFromString(html, "text/html");
    const found = [...page.querySelectorAll("[role=option]")], before = pointed(field);
    listOf(field).replaceChildren(...found);
    for (const one of found) one.id = `${field.id}-${one.id}`;
    listOf(field).hidden = !found.length;
    field.setAttribute("aria-expanded", String(found.length > 0));
    mark(field, before && found.find((one) => one.dataset.keys === before.dataset.keys)); // pointed at while this was asked
    document.getElementById(`${field.id}-fit`).textContent =
      found.length ? `${found.length} entries fit` : "no entry fits";
  }

  const pointed = (field) => document.getElementById(field.getAttribute("aria-activedescendant") || "");

  function mark(field, option) {
    for (const one of options(field)) one.setAttribute("aria-selected", String(one === option));
    if (!option) { field.removeAttribute("aria-activedescendant"); return; }
    field.setAttribute("aria-activedescendant", option.id);
    option.scrollIntoView({ block: "nearest" });
  }

  function point(field, step) {
    const all = options(field), now = all.indexOf(pointed(field));
    if (all.length) mark(field, all[now < 0 ? (step > 0 ? 0 : all.length - 1) : (now + step + all.length) % all.length]);
  }

  function choose(field, option) {
    const line = field.name.replace(/\.un$/, "");
    field.value = new URLSearchParams(option.dataset.keys).get("un");
    asked += 1;
    close(field);
    const value = `entry ${line} ${option.dataset.keys}`;
    document.dispatchEvent(new CustomEvent("desk:do", { detail: { form: field.form, value } }));
  }

  document.addEventListener("input", (event) => {
    const field = event.target;
    if (!("entries" in field.dataset)) return;
    offer(field);
    if (!whole(field.value) && field.value.trim()) event.stopPropagation(); // not yet a number: nothing to answer
  }, true);

  document.addEventListener("keydown", (event) => {
    const field = event.target;
    if (!(field.dataset && "entries" in field.dataset)) return;
    const open = !listOf(field).hidden;
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      event.preventDefault();
      if (open) point(field, event.key === "ArrowDown" ? 1 : -1); else offer(field);
    } else if (event.key === "Escape" && open) {
      event.preventDefault();
      close(field);
    } else if (event.key === "Enter" && open) {
      const active = pointed(field);
      event.preventDefault();
      if (active) choose(field, active); else if (options(field).length === 1) choose(field, options(field)[0]);
    }
  });

  document.addEventListener("mousedown", (event) => {
    const option = event.target.closest("[role=option]");
    if (!option) return;
    event.preventDefault();
    choose(option.closest(".entry").querySelector("[data-entries]"), option);
  });

  document.addEventListener("focusout", (event) => {
    if (event.target.dataset && "entries" in event.target.dataset) close(event.target);
  });
})();
