// Moves between answers that were found and proved beforehand; nothing is reckoned here.
(() => {
  "use strict";
  const feeds = JSON.parse(document.getElementById("live-data").textContent);
  for (const box of document.querySelectorAll(".live")) {
    const slider = box.querySelector("input");
    const said = box.querySelector("output");
    const picture = document.getElementById(slider.dataset.picture);
    const mark = picture.querySelector(".moving");
    const places = picture.dataset.stops.split(" ");
    const stops = feeds[Number(slider.dataset.feed)];
    const now = slider.value;
    const show = () => {
      const at = Number(slider.value);
      said.textContent = stops[at].words;
      slider.setAttribute("aria-valuetext", stops[at].price);
      mark.setAttribute("x1", places[at]);
      mark.setAttribute("x2", places[at]);
    };
    slider.addEventListener("input", show);
    box.querySelector("button").addEventListener("click", () => { slider.value = now; show(); });
    box.classList.add("on");
    show();
  }
})();
