/* What the user works on is kept in this browser: brought back when the page is opened, with what a link carries. */
(function () {
  "use strict";

  const KEY = "outboard-costs";
  const MOST_STEPS = 100; /* of undo */
  const ONE_GESTURE = 1000; /* ms; a slider that is moved is one change */
  let origin = null; /* the work that the pages open on */
  let last = null; /* the work as it was last */
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

  const NO_CHANGES = ["scenario", "engine", "lineup", "how_many_trials"]; /* what else a link carries */

  function parsed(text, otherwise) {
    try {
      return JSON.parse(text);
    } catch (error) {
      return otherwise;
    }
  }

  /* A link names a scenario of the library and carries the changes, each as the command line's --set takes it. */
  function fromLink(search) {
    const query = new URLSearchParams(search);
    if (!query.get("scenario")) {
      return null;
    }
    const work = { name: query.get("scenario"), changes: {}, engines: query.getAll("engine") };
    for (const [path, value] of query) {
      if (!NO_CHANGES.includes(path)) {
        work.changes[path] = value;
      }
    }
    if (query.get("lineup")) {
      work.lineup = parsed(query.get("lineup"), []);
    }
    if (query.get("how_many_trials")) {
      work.trials = Number(query.get("how_many_trials"));
    }
    return work;
  }

  function toLink(work) {
    const query = new URLSearchParams([["scenario", work.name]]);
    (work.engines || []).forEach((engine) => query.append("engine", engine));
    Object.entries(work.changes || {}).forEach(([path, value]) => query.append(path, value));
    if (work.lineup) {
      query.append("lineup", JSON.stringify(work.lineup));
    }
    if (work.trials) {
      query.append("how_many_trials", work.trials);
    }
    return `${location.origin}${location.pathname}?${query}`;
  }

  const LONGEST_LINK = 8000; /* characters that servers and mail take */
  const LARGEST_FILE = 1000000; /* bytes */

  function words() {
    return JSON.parse(document.getElementById("said").dataset.words);
  }

  function tell(text) {
    set("open-told", { children: text });
  }

  async function openOwn(file) {
    if (file.size > LARGEST_FILE) {
      tell(words().tooLarge);
      return;
    }
    try {
      const text = new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer());
      set("open-asked", { data: { name: file.name.slice(-120), text: text || " ", asked: performance.now() } });
    } catch (error) {
      tell(words().noText);
    }
  }

  document.addEventListener("click", (event) => {
    const at = (what) => event.target.closest && event.target.closest(what);
    const shows = at("[data-shows]");
    const named = at("[data-open-name]");
    if (shows) {
      tell("");
      document.getElementById(shows.dataset.shows).showModal();
    } else if (named) {
      set("open-asked", { data: { name: named.dataset.openName, asked: performance.now() } });
    } else if (at("#open-own")) {
      const input = Object.assign(document.createElement("input"), { type: "file", accept: ".toml" });
      input.addEventListener("change", () => input.files[0] && openOwn(input.files[0]));
      input.click();
    }
  });

  /* Whoever has kept nothing and opens the first page is sent it whole; the layout is asked for after this. */
  const base = new URL("..", document.currentScript.src).pathname;
  const isFirstView = !read().work && location.pathname === base && !fromLink(location.search);
  document.cookie = `first-view=${isFirstView ? "yes" : "no"}; path=${base}; SameSite=Strict`;

  function pathShown() {
    const links = Array.from(document.querySelectorAll("[data-page]"));
    const here = links.find((link) => link.pathname === location.pathname);
    return here ? here.dataset.page : "/";
  }

  function show(path) {
    document.querySelectorAll("[data-page]").forEach((link) => {
      link.dataset.page === path ? link.setAttribute("aria-current", "page") : link.removeAttribute("aria-current");
      if (link.dataset.page === path) {
        document.body.classList.toggle("stands-alone", link.dataset.alone === "true");
      }
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
      /* What is laid out already is left alone: it would be asked for and drawn once more. */
      start: function (start, workLaidOut, pathLaidOut, schemeLaidOut) {
        const unless = (laidOut, value) => (same(laidOut, value) ? window.dash_clientside.no_update : value);
        origin = start;
        const kept = read();
        let work = kept.work && kept.work.name ? kept.work : start;
        steps = kept.steps || [];
        const linked = fromLink(location.search);
        if (linked) {
          if (kept.work && !same(linked, kept.work)) {
            remember(kept.work, linked);
          }
          work = linked;
          kept.drafts = {};
          write(work, {}); /* also where it is the work that the pages open on, in place of what was kept */
          history.replaceState(history.state, "", location.pathname); /* what is changed from here on is kept */
        }
        const path = unless(pathLaidOut, show(pathShown()));
        const scheme = unless(schemeLaidOut, window.dash_clientside.looks.now());
        if (workLaidOut && same(workLaidOut, work) && !kept.drafts) {
          last = work;
          const keep = window.dash_clientside.no_update;
          return [keep, keep, keep, path, scheme];
        }
        return [work, kept.drafts || {}, 1, path, scheme];
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
        if (last || !same(work, origin) || Object.keys(drafts || {}).length) {
          write(work, drafts); /* nothing is kept of who has changed nothing */
        }
        last = work;
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
        delete origin.lineup;
        lastChange = -ONE_GESTURE;
        return [origin, {}, performance.now()];
      },
    },
    opening: {
      opened: function () {
        const dialog = document.getElementById("opening");
        if (dialog && dialog.open) {
          dialog.close();
        }
      },
      link: async function (clicks, work) {
        if (work.text) {
          return words().onlyLibrary;
        }
        const link = toLink(work);
        if (link.length > LONGEST_LINK) {
          return words().tooLong;
        }
        try {
          await navigator.clipboard.writeText(link);
        } catch (error) {
          window.prompt(words().copyThis, link); /* a page that is not served in secret may not write there */
        }
        return words().copied;
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
