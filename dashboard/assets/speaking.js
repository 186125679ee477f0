/* A language is chosen: the browser keeps it for a year and opens the page anew, with what was worked on. */
(function () {
  "use strict";

  const A_YEAR = 31536000; /* s */

  document.addEventListener("click", (event) => {
    const button = event.target.closest && event.target.closest("[data-language]");
    if (button) {
      document.cookie = `language=${button.dataset.language};path=${button.dataset.path};max-age=${A_YEAR};samesite=lax`;
      location.reload();
    }
  });
})();
