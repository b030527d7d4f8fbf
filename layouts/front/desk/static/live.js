// Sends a form as it changes and puts the answer in the page's place; what is the same stays, with its focus and text.
// Without this file every page works by its buttons.
"use strict";
(() => {
  const root = document.documentElement;
  root.dataset.script = "ready";
  const KEPT = new Set(["open", "aria-expanded", "aria-activedescendant"]);
  const FIELDS = "input:not([type=hidden], [type=file]), textarea, select";
  const gone = document.getElementById("gone");

  function morph(old, now) {
    if (old.isEqualNode(now)) { // the same as markup; what was typed since may still differ
      if (old.nodeType !== Node.ELEMENT_NODE) return;
      settle(old, now);
      const theirs = now.querySelectorAll(FIELDS);
      old.querySelectorAll(FIELDS).forEach((field, i) => settle(field, theirs[i]));
      return;
    }
    if (old.nodeType !== now.nodeType || old.nodeName !== now.nodeName || old.nodeName === "svg") {
      old.replaceWith(now);
      return;
    }
    if (old.nodeType !== Node.ELEMENT_NODE) { old.data = now.data; return; }
    if (old.hasAttribute("data-keep")) return;
    const said = { value: now.value, checked: now.checked }; // before its parts go over to the page
    for (const { name } of [...old.attributes]) if (!now.hasAttribute(name) && !KEPT.has(name)) old.removeAttribute(name);
    for (const { name, value } of now.attributes) {
      if (!KEPT.has(name) && old.getAttribute(name) !== value) old.setAttribute(name, value);
    }
    children(old, now);
    settle(old, said);
  }

  function children(old, now) {
    let at = old.firstChild;
    for (const node of [...now.childNodes]) {
      const same = node.id ? old.querySelector(`:scope > #${CSS.escape(node.id)}`)
        : at && !at.id && at.nodeName === node.nodeName ? at : null;
      if (!same) { old.insertBefore(node, at); continue; }
      if (same === at) at = at.nextSibling; else old.insertBefore(same, at);
      morph(same, node);
    }
    while (at) { const next = at.nextSibling; at.remove(); at = next; }
  }

  // What a person has done to a field is kept while the field has the focus, and taken from the answer otherwise.
  function settle(old, now) {
    if (!old.matches(FIELDS) || old === document.activeElement || old.hasAttribute("data-quiet")) return;
    if (old.matches("[type=checkbox], [type=radio]")) old.checked = now.checked;
    else if (old.value !== now.value) old.value = now.value;
  }

  const waiting = new WeakMap(); // form -> what to send when the request on its way is answered

  async function send(form, submitter) {
    if (waiting.has(form)) { waiting.set(form, submitter || waiting.get(form) || true); return; }
    waiting.set(form, null);
    root.dataset.script = "asking";
    const data = new URLSearchParams(new FormData(form));
    if (submitter && submitter.name) data.append(submitter.name, submitter.value);
    const at = document.activeElement;
    if (at && at.form === form && at.name) data.append("focus", at.name);
    const place = at && at.id;
    try {
      const answer = await fetch(form.action, { method: "POST", body: data });
      const text = await answer.text();
      if (!(answer.headers.get("content-type") || "").startsWith("text/html")) throw new Error(text);
      const again = waiting.get(form);
      if (!again) {
        const page = new DOMParser().parseFromString(text, "text/html");
        document.title = page.title;
        morph(document.getElementById("main"), page.getElementById("main"));
        refocus(place, submitter);
        say("");
      }
    } catch (error) {
      say(error instanceof TypeError ? "The desk does not answer. Is it still running?" : error.message);
    } finally {
      const again = waiting.get(form);
      waiting.delete(form);
      const still = document.getElementById(form.id) || form;
      root.dataset.script = "ready";
      if (again) send(still, again === true ? null : again);
    }
  }

  // After a button that added something, the new field has the focus; a field that was moved gets it back.
  function refocus(place, submitter) {
    const does = submitter && submitter.name === "do" ? submitter.value.split(" ") : [];
    if (does[0] === "add") {
      const rows = document.querySelectorAll(`#f-${CSS.escape(does[1].replaceAll(".", "-"))} > fieldset.row`);
      const field = rows.length && rows[rows.length - 1].querySelector("input:not([type=hidden]), select, textarea");
      if (field) field.focus();
    } else if (does[0] === "more" || does[0] === "text" || does[0] === "form") {
      const opened = document.querySelectorAll("input[name=open]");
      const name = opened.length ? opened[opened.length - 1].value : "";
      const field = does[0] === "more" && document.getElementById(`f-${name.replaceAll(".", "-")}`);
      if (field) field.focus();
    } else if (place && (!document.activeElement || document.activeElement === document.body)) {
      const field = document.getElementById(place);
      if (field) field.focus();
    }
  }

  function say(text) {
    gone.textContent = text;
    gone.hidden = !text;
  }

  for (const kind of ["input", "change"]) {
    document.addEventListener(kind, (event) => {
      const field = event.target, form = field.form;
      if (!form || field.hasAttribute("data-quiet")) return;
      if (kind === "input" && field.dataset.for) slide(field);
      const when = field.matches("select, input[type=checkbox], input[type=radio]") ? "change" : form.dataset.live;
      if (form.dataset.live && kind === when) send(form, null);
    });
  }

  document.addEventListener("submit", (event) => {
    const form = event.target, button = event.submitter;
    if (!form.dataset.live || (button && (button.formTarget === "_blank" || button.hasAttribute("formaction")))) return;
    event.preventDefault();
    send(form, button);
  });

  // A slider writes its place into the field it belongs to.
  function slide(range) {
    const words = JSON.parse(range.dataset.stops)[range.value];
    range.setAttribute("aria-valuetext", words);
    document.getElementById(range.dataset.for).value = words;
  }

  // A scanner types a code's text and no more: it is sent when its digest is there.
  document.addEventListener("input", (event) => {
    if ("scan" in event.target.dataset && /\brecord [0-9a-f]{16}\s*$/m.test(event.target.value)) {
      event.target.form.requestSubmit();
    }
  });

  document.addEventListener("desk:do", (event) => send(event.detail.form, { name: "do", value: event.detail.value }));
})();
