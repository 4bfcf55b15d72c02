// The pages work without this. It puts the focus where a faulty form has to be mended first.
(function () {
  'use strict';
  var faulty = document.querySelector('main [aria-invalid]');
  if (faulty) {
    faulty.focus();
  }
})();

// A part that was unfolded stays so when the findings are shown anew.
(function () {
  'use strict';
  var open = [];
  document.addEventListener('htmx:beforeSwap', function () {
    open = Array.prototype.map.call(document.querySelectorAll('#shown section[id] > details[open]'), function (details) {
      return details.parentNode.id;
    });
  });
  document.addEventListener('htmx:afterSettle', function () {
    open.forEach(function (id) {
      var details = document.querySelector('#' + id + ' > details');
      if (details) {
        details.open = true;
      }
    });
  });
})();
