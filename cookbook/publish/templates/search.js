// Hides every recipe that lacks one of the words.
(function () {
  "use strict";
  var field = document.getElementById("words"), items = document.querySelectorAll("#entries li");
  document.getElementById("search").hidden = false;
  field.addEventListener("input", function () {
    var words = field.value.toLowerCase().split(/\s+/).filter(Boolean), shown = 0;
    items.forEach(function (item) {
      var fits = words.every(function (word) { return item.getAttribute("data-words").indexOf(word) >= 0; });
      item.hidden = !fits;
      shown += fits ? 1 : 0;
    });
    document.getElementById("count").textContent = words.length ? shown + " of " + items.length : "";
  });
}());
