// Loads the page anew when the book has changed. Only pages of a preview have it.
(function () {
  "use strict";
  var version = document.currentScript.dataset.version;
  new EventSource("/.preview/changes").onmessage = function (event) {
    if (event.data !== version) { location.reload(); }
  };
})();
