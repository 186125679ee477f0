/* What the user works on is kept in this browser: brought back when the page is opened, with what a link carries. */
(function () {
  "use strict";

  const KEY = "outboard-costs";
  const MOST_STEPS = 100; /* of undo */
  const ONE_GESTURE = 1000; /* ms; a slider that is moved is one change */
  let last = null; /* the work as it was kept last */
  let lastChange = -ONE_GESTURE;
  let steps = [];
  let isStepBack = false;
  let drawnFor = null; /* the work that the page in sight was asked for */

  const set = (id, props) => window.dash_clientside.set_props(id, props);
  const same = (one, other) => JSON.stringify(one) === JSON.stringify(other);
  const isFrom = (one, other) => one.name === other.name && (one.text || "") === (other.text || "");

  function read() {
    try {
      return JSON.parse(localStorage.getItem(KEY)) || {};
    } catch (error) {
      return {};
    }
  }

  function write(work, drafts) {
    try {
      localStorage.setItem(KEY, JSON.stringify({ work: work, drafts: drafts, steps: steps }));
    } catch (error) {
      try { /* too much: the steps back are what can be spared */
        localStorage.setItem(KEY, JSON.stringify({ work: work, drafts: drafts, steps: [] }));
      } catch (refused) { /* a browser that keeps nothing */ }
    }
  }

  function pathShown() {
    const links = Array.from(document.querySelectorAll("[data-page]"));
    const here = links.find((link) => link.pathname === location.pathname);
    return here ? here.dataset.page : "/";
  }

  function show(path) {
    document.querySelectorAll("[data-page]").forEach((link) => {
      link.dataset.page === path ? link.setAttribute("aria-current", "page") : link.removeAttribute("aria-current");
      if (link.dataset.page === path && link.scrollIntoView) {
        link.scrollIntoView({ block: "nearest", inline: "nearest" });
      }
    });
    return path;
  }

  document.addEventListener("click", (event) => {
    const link = event.target.closest && event.target.closest("a[data-page]");
    if (link && !event.ctrlKey && !event.metaKey && !event.shiftKey && event.button === 0) {
      event.preventDefault();
      if (link.pathname !== location.pathname) {
        history.pushState({}, "", link.href);
        set("visible", { data: show(link.dataset.page) });
      }
    }
  });
  window.addEventListener("popstate", () => set("visible", { data: show(pathShown()) }));

  /* A step keeps the file's text only where it is another file's. */
  function remember(work, next) {
    const step = Object.assign({}, work);
    if (isFrom(work, next)) {
      delete step.text;
      delete step.name;
    } else {
      steps = steps.filter((one) => !one.name);
    }
    steps.push(step);
    steps = steps.slice(-MOST_STEPS);
  }

  window.dash_clientside = Object.assign({}, window.dash_clientside, {
    work: {
      start: function (start) {
        const kept = read();
        const work = kept.work && kept.work.name ? kept.work : start;
        steps = kept.steps || [];
        const scheme = document.documentElement.dataset.mantineColorScheme === "dark" ? "dark" : "light";
        return [work, kept.drafts || {}, 1, show(pathShown()), scheme];
      },
      keep: function (work, drafts) {
        if (!work) {
          return window.dash_clientside.no_update;
        }
        if (last && !same(last, work)) {
          const isOneGesture = performance.now() - lastChange < ONE_GESTURE && isFrom(last, work);
          if (!isStepBack && !isOneGesture) {
            remember(last, work);
          }
          lastChange = isStepBack ? -ONE_GESTURE : performance.now();
          isStepBack = false;
        }
        last = work;
        write(work, drafts);
        return steps.length === 0;
      },
      undo: function (clicks, work) {
        const step = steps.pop();
        if (!step) {
          const keep = window.dash_clientside.no_update;
          return [keep, keep, keep];
        }
        isStepBack = true;
        const before = step.name ? step : Object.assign({}, step, { name: work.name }, work.text ? { text: work.text } : {});
        return [before, {}, performance.now()];
      },
      restore: function (clicks, work) {
        const origin = Object.assign({}, work, { changes: {}, engines: [] });
        lastChange = -ONE_GESTURE;
        return [origin, {}, performance.now()];
      },
    },
    pages: {
      seen: function (path, work) {
        drawnFor = work;
      },
      /* What changed while the page was on its way is drawn now. */
      shown: function (parts, work) {
        if (drawnFor && work && !same(drawnFor, work)) {
          set("work", { data: Object.assign({}, work) });
        }
        drawnFor = null;
      },
    },
  });
})();
