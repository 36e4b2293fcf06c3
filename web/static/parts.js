// Puts an answer of the server into the page part by part: what did not change is
// neither sent nor drawn again, and keeps its focus, its folds and what is being typed.
"use strict";

(() => {
  const opened = new Map(); // of every part that can be folded, whether it was open
  let stale = 0;

  document.addEventListener("htmx:configRequest", (e) => {
    if (e.detail.verb === "get") return;
    e.detail.headers["X-Have"] = Array.from(document.querySelectorAll("#answer [data-as]"), (p) => p.dataset.as).join(" ");
  });

  document.addEventListener("htmx:beforeSwap", (e) => {
    if (!e.detail.xhr.getResponseHeader("X-Merge")) return;
    e.detail.shouldSwap = false;
    const focus = document.activeElement;
    const text = document.createElement("template");
    text.innerHTML = e.detail.xhr.responseText;
    let whole = true;
    for (const is of Array.from(text.content.children)) {
      const was = document.getElementById(is.id);
      if (was) whole = merge(was, is) && whole;
    }
    if (focus && focus.id && !focus.isConnected) {
      const again = document.getElementById(focus.id);
      if (again) again.focus({ preventScroll: true });
    }
    if (!whole) showAnew();
    document.dispatchEvent(new Event("answered"));
    clearTimeout(stale);
    stale = setTimeout(lookAgain, 2000);
  });

  // showAnew asks for all of it, where the answer counted on a part that is not here.
  function showAnew() {
    htmx.ajax("GET", location.href, { source: "#desk", swap: "none" });
  }

  // lookAgain has remedies tried anew that were tried on an earlier state.
  function lookAgain() {
    for (const mends of document.querySelectorAll("#answer .mends:not(:has(> a))")) htmx.trigger(mends, "stale");
  }

  // merge brings an element to what it is now; false where a part is missing.
  function merge(was, is) {
    if ("as" in is.dataset) {
      if (was.dataset.as === is.dataset.as) return true;
      if (!is.firstChild) return false;
      was.dataset.as = is.dataset.as;
      fill(was, is);
      return true;
    }
    if ("keyed" in is.dataset) return mergeList(was, is);
    if (was.isEqualNode(is)) return true;
    if (is.matches("input, select")) return adopt(was, is);
    if (was.tagName === is.tagName && was.className === is.className) fill(was, is);
    else {
      was.replaceWith(is);
      htmx.process(is);
    }
    return true;
  }

  function mergeList(list, is) {
    const had = new Map(Array.from(list.children, (e) => [e.id, e]));
    let at = list.firstElementChild, whole = true;
    for (const next of Array.from(is.children)) {
      const was = had.get(next.id);
      if (was === at) at = at && at.nextElementSibling;
      if (was) {
        if (was.nextElementSibling !== at) list.insertBefore(was, at);
        whole = merge(was, next) && whole;
        continue;
      }
      whole = whole && !("as" in next.dataset && !next.firstChild);
      list.insertBefore(next, at);
      refold(next);
      htmx.process(next);
    }
    while (at) {
      const gone = at;
      at = at.nextElementSibling;
      remember(gone);
      gone.remove();
    }
    return whole;
  }

  function fill(was, is) {
    remember(was);
    was.replaceChildren(...is.childNodes);
    refold(was);
    htmx.process(was);
  }

  // adopt takes over what an input shows, unless somebody is typing in it.
  function adopt(was, is) {
    for (const name of ["data-basis", "value"]) {
      if (is.hasAttribute(name)) was.setAttribute(name, is.getAttribute(name));
    }
    if (was !== document.activeElement || was.tagName === "SELECT") was.value = is.value;
    return true;
  }

  function remember(root) {
    for (const d of root.querySelectorAll("details[id]")) opened.set(d.id, d.open);
  }

  function refold(root) {
    for (const d of root.querySelectorAll("details[id]")) {
      if (opened.has(d.id)) d.open = opened.get(d.id);
    }
  }
})();
