/* Pictures are drawn one at a time: those in sight first, each shown before the next is begun; the others at leisure. */
(function () {
  "use strict";

  const LEISURE = 300; /* ms without a new picture, after which those out of sight are drawn */
  const waiting = new Map(); /* picture -> what to draw, and whom to tell */
  let isBusy = false;
  let later = null;

  function isInSight(graph) {
    const place = graph.getBoundingClientRect();
    return place.bottom > 0 && place.top < window.innerHeight;
  }

  function afterPainting(next) {
    const soon = () => setTimeout(next, 0);
    document.hidden ? soon() : requestAnimationFrame(soon);
  }

  function drawOne(draw, isAtLeisure) {
    if (isBusy) {
      return;
    }
    waiting.forEach((_, graph) => graph.isConnected || waiting.get(graph).done() || waiting.delete(graph));
    const graphs = Array.from(waiting.keys());
    const graph = graphs.find(isInSight) || (isAtLeisure && graphs[0]);
    if (!graph) {
      return;
    }
    const { figure, done, fail } = waiting.get(graph);
    waiting.delete(graph);
    isBusy = true;
    const next = () => {
      isBusy = false;
      afterPainting(() => drawOne(draw, isAtLeisure));
    };
    draw(graph, figure).then(done, fail).finally(next);
  }

  /* What is waiting for its turn is out of date when the next comes: it is never drawn. */
  function inTurns(drawing) {
    const draw = drawing.react;
    const resize = drawing.Plots.resize;
    const react = (graph, figure) => new Promise((done, fail) => {
      waiting.set(graph, { figure: figure, done: done, fail: fail });
      if (graph._fullLayout) {
        done(); /* drawn before, and to be drawn again whatever comes in between */
      }
      clearTimeout(later);
      later = setTimeout(() => drawOne(draw, true), LEISURE);
      afterPainting(() => drawOne(draw, false));
    });
    const fits = (graph) => graph._fullLayout && graph._fullLayout.width === graph.offsetWidth
      && graph._fullLayout.height === graph.offsetHeight;
    window.addEventListener("scroll", () => waiting.size && drawOne(draw, false), { capture: true, passive: true });
    return Object.assign({}, drawing, {
      react: react,
      Plots: Object.assign({}, drawing.Plots, {
        resize: (graph) => (fits(graph) ? Promise.resolve() : resize(graph)), /* it would be drawn twice */
      }),
    });
  }

  /* Dash waits for this in place of fetching the code itself, which it would do late, and read on the page's own time. */
  let isFetched = null;
  window.Plotly = new Promise((done, fail) => {
    isFetched = { done: done, fail: fail };
  });

  /* At once, and read beside the page's own time: what is left of it is run while the page waits for its layout. */
  const code = document.createElement("script");
  code.src = document.getElementById("drawing-code").href;
  code.async = true;
  code.addEventListener("load", () => {
    window.Plotly = inTurns(window.Plotly);
    isFetched.done();
  });
  code.addEventListener("error", isFetched.fail);
  document.head.append(code);
})();
