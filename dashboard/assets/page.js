/* What the browser does by itself: controls that follow each other, light and dark. */
(function () {
  "use strict";

  const LEAST_PAUSE = 120; /* ms between two values of a slider that is being moved */
  const waiting = {};
  const lastSent = {};

  function send(box, value) {
    lastSent[box] = performance.now();
    window.dash_clientside.set_props(box, { value: value });
  }

  function sendSoon(box, value) {
    clearTimeout(waiting[box]);
    const pause = LEAST_PAUSE - (performance.now() - (lastSent[box] || -LEAST_PAUSE));
    if (pause <= 0) {
      send(box, value);
    } else {
      waiting[box] = setTimeout(() => send(box, value), pause);
    }
  }

  function scheme() {
    return document.documentElement.dataset.mantineColorScheme === "dark" ? "dark" : "light";
  }

  /* The page's own attribute is the one truth: the switch, the system and an earlier choice all end there. */
  function tellScheme() {
    if (window.dash_clientside && window.dash_clientside.set_props && document.getElementById("results")) {
      window.dash_clientside.set_props("scheme", { data: scheme() });
    }
  }
  new MutationObserver(tellScheme).observe(document.documentElement, {
    attributes: true,
    attributeFilter: ["data-mantine-color-scheme"],
  });

  document.addEventListener("keydown", (event) => {
    const more = document.getElementById("more");
    if (event.key === "Escape" && more && more.getAttribute("aria-expanded") === "true") {
      more.click();
      more.focus();
    }
  });

  window.dash_clientside = Object.assign({}, window.dash_clientside, {
    controls: {
      /* A slider's value goes to its box, a little held back while it moves; a sound box moves its slider. */
      follow: function (sliderValue, boxValue, least, most) {
        const keep = window.dash_clientside.no_update;
        const cause = window.dash_clientside.callback_context.triggered[0].prop_id.split(".")[0];
        if (cause.endsWith("-slider")) {
          if (Number(boxValue) !== sliderValue || boxValue === "") {
            sendSoon(cause.replace(/-slider$/, "-box"), sliderValue);
          }
          return [keep, keep];
        }
        const isSound = typeof boxValue === "number" && least <= boxValue && boxValue <= most;
        return [keep, isSound && boxValue !== sliderValue ? boxValue : keep];
      },
      open: function (clicks, className) {
        const opens = !className.includes("is-open");
        return [opens ? "sheet is-open" : "sheet", String(opens)];
      },
    },
  });
})();
