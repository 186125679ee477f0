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

  /* What comes into a number box at once, by pasting or filling, has its one mark taken for the decimal mark, as it is
     when it is typed; the box would leave out a mark that is not its own, and read 2.5 as 25. Thousands stay thousands. */
  function withDecimalMark(text, group, decimal) {
    const marks = text.replace(/[^.,]/g, "");
    const isThousands = marks === group && /^\D*[1-9]\d{0,2}[.,]\d{3}\D*$/.test(text);
    return marks.length === 1 ? text.replace(marks, isThousands ? "" : decimal) : text;
  }

  /* By key, a mark of thousands is shown as the decimal mark until three digits follow it; the box would stay at 1.2. */
  function withoutGroup(box, typed, group, decimal) {
    if (typed === group) {
      box.dataset.parted = "on";
    } else if (typed === decimal || !box.value.includes(decimal)) {
      delete box.dataset.parted;
    }
    const [whole, rest] = box.value.split(decimal);
    return box.dataset.parted && /^-?[1-9]\d*$/.test(whole) && /^\d{3}$/.test(rest) ? whole + rest : box.value;
  }

  document.addEventListener("focusin", (event) => delete event.target.dataset.parted);
  document.addEventListener("input", (event) => {
    const box = event.target;
    if ((event.inputType || "").startsWith("delete") || !box.matches(".mantine-NumberInput-input")) {
      return;
    }
    const words = JSON.parse(document.getElementById("said").dataset.words);
    const found = event.data && event.data.length === 1
      ? withoutGroup(box, event.data, words.group, words.decimal)
      : withDecimalMark(box.value, words.group, words.decimal);
    if (found !== box.value) { /* by the browser's own setter: the box then notices the change itself */
      Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, "value").set.call(box, found);
    }
  }, true);

  const LARGE = "large-type"; /* a class of the page, a key of what the browser keeps, an id of the button */
  const root = document.documentElement;

  function scheme() {
    const large = root.classList.contains(LARGE) ? " large" : "";
    return (root.dataset.mantineColorScheme === "dark" ? "dark" : "light") + large;
  }

  function sayLarge() {
    const button = document.getElementById(LARGE);
    if (button) {
      button.setAttribute("aria-pressed", String(root.classList.contains(LARGE)));
    }
  }

  root.classList.toggle(LARGE, localStorage.getItem(LARGE) === "on");
  document.addEventListener("click", (event) => {
    if (event.target.closest && event.target.closest("#" + LARGE)) {
      localStorage.setItem(LARGE, root.classList.toggle(LARGE) ? "on" : "off");
      sayLarge();
    }
  });

  /* The page's own attribute is the one truth: the switch, the system and an earlier choice all end there. */
  function tellScheme() {
    if (window.dash_clientside && window.dash_clientside.set_props && document.getElementById("results")) {
      sayLarge();
      window.dash_clientside.set_props("scheme", { data: scheme() });
    }
  }
  new MutationObserver(tellScheme).observe(document.documentElement, {
    attributes: true,
    attributeFilter: ["data-mantine-color-scheme", "class"],
  });

  document.addEventListener("keydown", (event) => {
    const more = document.getElementById("more");
    if (event.key === "Escape" && more && more.getAttribute("aria-expanded") === "true") {
      more.click();
      more.focus();
    }
  });

  window.dash_clientside = Object.assign({}, window.dash_clientside, {
    looks: {
      /* The button is there once the page is: it says then whether type is large. */
      now: function () {
        sayLarge();
        return scheme();
      },
    },
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
