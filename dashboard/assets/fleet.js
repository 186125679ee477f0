/* Files of a fleet are read by the browser and sent as texts: the fleet file (TOML), its register and its logs (CSV). */
(function () {
  "use strict";

  const set = (id, props) => window.dash_clientside.set_props(id, props);

  async function read(files) {
    const found = { name: "", text: "", tables: {}, changes: {}, asked: performance.now() };
    for (const file of files) {
      let text = "";
      try {
        text = new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer());
      } catch (error) {
        text = null;
      }
      if (/\.toml$/i.test(file.name)) {
        found.name = file.name.slice(-120);
        found.text = text === null ? "" : text || " ";
      } else {
        found.tables[file.name.slice(-120)] = text === null ? "" : text;
      }
    }
    found.name = found.name || (files[0] ? files[0].name.slice(-120) : "");
    return found;
  }

  const LARGEST = 1000000; /* bytes, all files together */

  window.dash_clientside = Object.assign({}, window.dash_clientside, {
    fleet: {
      open: function () {
        const input = Object.assign(document.createElement("input"), { type: "file", accept: ".toml,.csv", multiple: true });
        input.addEventListener("change", async () => {
          const files = Array.from(input.files);
          const size = files.reduce((sum, file) => sum + file.size, 0);
          const data = size > LARGEST ? { name: files[0].name.slice(-120), asked: performance.now() } : await read(files);
          set("fleet-asked", { data: data });
        });
        input.click();
      },
    },
  });
})();
