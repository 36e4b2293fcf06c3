// What the pages do beyond links and forms: mark fields that were refused, take back
// with a key, and say when the server is silent.
"use strict";

document.documentElement.classList.add("js");

function markRefused() {
  for (const state of document.querySelectorAll(".state[id]")) {
    const input = document.getElementById("v-" + state.id.slice(2));
    if (!input) continue;
    if (state.querySelector(".error")) input.setAttribute("aria-invalid", "true");
    else input.removeAttribute("aria-invalid");
  }
}

// silent says beside the state what could not be done. Saving by a form's own button
// works without this script: where something was not saved, that is shown again.
function silent(e, why) {
  const saved = document.getElementById("saved");
  if (!saved) return;
  const asked = e.detail.requestConfig.verb === "get";
  saved.textContent = (asked ? "not up to date: " : "not saved: ") + why;
  saved.classList.add("unsaved");
  saved.setAttribute("role", "alert");
  if (!asked) document.documentElement.classList.remove("js");
}

document.addEventListener("answered", markRefused);
document.addEventListener("htmx:sendError", (e) => silent(e, "the server does not answer; what you typed is still here, press Save below"));
document.addEventListener("htmx:responseError", (e) => {
  const { xhr } = e.detail, kind = xhr.getResponseHeader("Content-Type") || "";
  if (xhr.status === 401) silent(e, "sign in again in another window, then press Save below");
  else silent(e, kind.startsWith("text/plain") ? xhr.responseText : "the server said " + xhr.status);
});
document.addEventListener("htmx:beforeRequest", (e) => {
  const saved = document.getElementById("saved");
  if (saved && e.detail.requestConfig.verb === "post") saved.textContent = "saving";
});

// A key for undo and redo, unless a person is typing: there the browser's own works.
document.addEventListener("keydown", (e) => {
  if (!(e.ctrlKey || e.metaKey) || e.altKey) return;
  if (e.target.closest("input, textarea, select")) return;
  const back = e.key === "z" && !e.shiftKey, forth = e.key === "y" || (e.key === "Z" && e.shiftKey);
  const button = document.getElementById(back ? "undo" : forth ? "redo" : "");
  if (!button || button.disabled) return;
  e.preventDefault();
  button.click();
});

document.addEventListener("DOMContentLoaded", () => {
  const problems = document.getElementById("problems");
  if (problems) problems.focus();
});
