// Moves the pieces of the plan with a pointer or with keys. The server works out what
// rests on the new place and sends the plan back.
"use strict";

(() => {
  const snap = 0.05; // metres; finer is typed in the table
  let held = null, waiting = 0;

  const round = (x) => Math.round(x / snap) * snap;

  // metres gives where a pointer stands in the room.
  function metres(svg, e) {
    const p = new DOMPoint(e.clientX, e.clientY).matrixTransform(svg.getScreenCTM().inverse());
    return { x: p.x / 100, y: -p.y / 100 };
  }

  function place(g) {
    return { x: Number(g.dataset.x), y: Number(g.dataset.y), turn: Number(g.dataset.turn) };
  }

  // show moves the drawing of a piece until the server has answered.
  function show(g, to) {
    const at = place(g), turn = to.turn - at.turn;
    const cx = at.x * 100, cy = -at.y * 100;
    g.setAttribute("transform", `translate(${(to.x - at.x) * 100} ${-(to.y - at.y) * 100}) rotate(${-turn} ${cx} ${cy})`);
  }

  function send(g, to) {
    const svg = g.closest("svg");
    htmx.ajax("POST", svg.dataset.url, {
      source: "#desk", target: "#sheet", swap: "innerHTML",
      values: { sheet: "plan", tag: g.dataset.tag, part: g.dataset.part, x: to.x.toFixed(2), y: to.y.toFixed(2), turn: to.turn },
    });
  }

  // A place that was refused is not kept: the piece stands again where it stood.
  for (const failed of ["htmx:responseError", "htmx:sendError"]) {
    document.addEventListener(failed, () => {
      for (const g of document.querySelectorAll(".plan .piece[transform]")) {
        g.removeAttribute("transform");
        delete g.goal;
      }
    });
  }

  document.addEventListener("pointerdown", (e) => {
    const g = e.target.closest && e.target.closest(".plan .piece");
    if (!g || e.button !== 0) return;
    e.preventDefault();
    g.focus();
    const from = metres(g.closest("svg"), e);
    held = { g, from, to: place(g), id: e.pointerId };
    g.classList.add("moving");
    g.setPointerCapture(e.pointerId);
  });

  document.addEventListener("pointermove", (e) => {
    if (!held || e.pointerId !== held.id) return;
    const now = metres(held.g.closest("svg"), e), at = place(held.g);
    held.to = { x: round(at.x + now.x - held.from.x), y: round(at.y + now.y - held.from.y), turn: at.turn };
    show(held.g, held.to);
  });

  document.addEventListener("pointerup", (e) => {
    if (!held || e.pointerId !== held.id) return;
    const { g, to } = held, at = place(g);
    held = null;
    g.classList.remove("moving");
    if (Math.abs(to.x - at.x) >= snap / 2 || Math.abs(to.y - at.y) >= snap / 2) send(g, to);
  });

  document.addEventListener("pointercancel", () => {
    if (!held) return;
    held.g.classList.remove("moving");
    held.g.removeAttribute("transform");
    held = null;
  });

  document.addEventListener("keydown", (e) => {
    const g = e.target.closest && e.target.closest(".plan .piece");
    if (!g || e.ctrlKey || e.metaKey || e.altKey) return;
    const to = g.goal || place(g), step = e.shiftKey ? 0.5 : 0.1;
    switch (e.key) {
      case "ArrowLeft": to.x -= step; break;
      case "ArrowRight": to.x += step; break;
      case "ArrowUp": to.y += step; break;
      case "ArrowDown": to.y -= step; break;
      case "r": case "R": to.turn = (to.turn + 90) % 360; break;
      default: return;
    }
    e.preventDefault();
    g.goal = to;
    show(g, to);
    clearTimeout(waiting);
    waiting = setTimeout(() => send(g, to), 200);
  });
})();
