// The pages work without this. It puts the focus where a faulty form has to be mended first.
(function () {
  'use strict';
  var faulty = document.querySelector('main [aria-invalid]');
  if (faulty) {
    faulty.focus();
  }
})();
