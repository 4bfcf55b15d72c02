// Entering readings where there may be no connection. Whatever is saved is put into this phone's own store first, each under
// a key of its own, and leaves it only when the server has answered that it is on disk. The page works without this.
(function () {
  'use strict';
  var root = document.getElementById('entry');
  if (!root || !window.fetch || !document.body.closest) {
    return;
  }
  var form = document.getElementById('reading');
  var told = document.getElementById('told');
  var echo = document.getElementById('echo');
  var keys = document.getElementById('keys');
  var undoLast = document.getElementById('undo-last');
  var inputs = ['value', 'second', 'third'].map(function (c) { return document.getElementById('f-' + c); });
  var here = place(location.pathname);
  var token = form.elements.token.value;
  var field = inputs[0];
  var last = null;      // what the big undo takes back
  var entered = false;  // whether something was saved on this circle since it was opened
  var mending = null;   // key of a refused reading that is being corrected

  root.classList.add('scripted');

  // ---- the store: one key for each thing that waits, so that two tabs never write over each other

  var LEAD = 'fairturn:waits:';
  var memory = {};      // where the browser keeps nothing
  var count = 0;

  function keep(key, value) {
    try {
      localStorage.setItem(key, value);
      delete memory[key];
      return true;
    } catch (full) {
      memory[key] = value;
      return false;
    }
  }
  function kept(key) {
    try {
      return key in memory ? memory[key] : localStorage.getItem(key);
    } catch (closed) {
      return null;
    }
  }
  function drop(key) {
    delete memory[key];
    try {
      localStorage.removeItem(key);
    } catch (closed) { /* nothing was kept there */ }
  }
  function waiting() {
    var all = Object.keys(memory);
    try {
      for (var i = 0; i < localStorage.length; i++) {
        if (all.indexOf(localStorage.key(i)) < 0) {
          all.push(localStorage.key(i));
        }
      }
    } catch (closed) { /* memory it is */ }
    return all.filter(function (key) { return key.indexOf(LEAD) === 0; }).sort().map(function (key) {
      try {
        var item = JSON.parse(kept(key));
        item.key = key;
        return item;
      } catch (broken) {
        return null;
      }
    }).filter(function (item) { return item && item.entry; });
  }
  function put(item) {
    if (!item.key) {
      // never before what waits already, or a clock set back would send taking out before what is taken out
      var time = String(waiting().reduce(function (latest, other) {
        return Math.max(latest, Number(other.key.slice(LEAD.length).split(':')[0]) || 0);
      }, Date.now()));
      item.key = LEAD + '000000000000000'.slice(time.length) + time + ':' + ('00000' + count++).slice(-5) + ':' + item.entry;
    }
    var copy = {};
    Object.keys(item).forEach(function (name) {
      if (name !== 'key') { copy[name] = item[name]; }
    });
    return keep(item.key, JSON.stringify(copy));
  }
  // crypto.randomUUID is not there on pages a phone gets by plain http
  function newEntry() {
    var bytes = crypto.getRandomValues(new Uint8Array(16));
    return Array.prototype.map.call(bytes, function (b) { return ('0' + b.toString(16)).slice(-2); }).join('');
  }

  // ---- sending, one after the other and in their order

  var sending = false;
  var pause = 0;
  var timer = null;
  var why = '';

  function alone(work) {
    if (navigator.locks) {
      return navigator.locks.request('fairturn:sending', { ifAvailable: true }, function (lock) { return lock ? work() : null; });
    }
    var mine = Math.random().toString(36);
    var now = Date.now();
    var other = (kept('fairturn:sending') || '').split(' ');
    if (other[0] && now - Number(other[1]) < 30000) {
      return Promise.resolve();
    }
    keep('fairturn:sending', mine + ' ' + now);
    return work().then(function () { drop('fairturn:sending'); }, function () { drop('fairturn:sending'); });
  }
  function send() {
    clearTimeout(timer);
    if (sending || !next()) {
      show();
      return;
    }
    sending = true;
    Promise.resolve(alone(sendAll)).catch(function () { why = ''; }).then(function () {
      sending = false;
      show();
      if (next()) {
        if (/^Being (saved|taken out): /.test(told.textContent)) {
          tell(told.textContent.replace(/^Being saved: /, 'Kept on this phone, to be sent: ').replace(/^Being taken out: /,
              'To be taken out: '), false);
        }
        pause = Math.min(pause ? pause * 2 : 1000, 30000);
        timer = setTimeout(send, pause);
      } else {
        pause = 0;
      }
    });
  }
  function next() {
    return waiting().filter(function (item) { return item.state !== 'refused'; })[0];
  }
  function sendAll() {
    var item = next();
    if (!item) {
      return Promise.resolve();
    }
    return sendOne(item, true).then(function (goOn) { return goOn ? sendAll() : null; });
  }
  function post(item) {
    var body = new URLSearchParams();
    Object.keys(item.cells).forEach(function (name) { body.set(name, item.cells[name]); });
    body.set('entry', item.entry);
    return within(fetch(item.circle + (item.undo ? '/undo' : '/readings'), {
      method: 'POST', body: body, headers: { 'X-Fairturn-Token': token, 'HX-Request': 'true' }, credentials: 'same-origin'
    }));
  }
  // a phone at the edge of the network may wait for minutes
  function within(answer) {
    return Promise.race([answer, new Promise(function (done, fail) { setTimeout(fail, 15000); })]);
  }
  function sendOne(item, again) {
    if (!item.tried) {
      item.tried = true; // from here on it may be on the server, so taking it back has to be told there
      put(item);
    }
    return post(item).then(function (answer) {
      return answer.text().then(function (text) {
        if (answer.ok || (item.undo && answer.status === 409)) {
          drop(item.key);
          pause = 0;
          why = '';
          arrived(item, text);
          return true;
        }
        if (answer.status === 403 && again) { // the server was started anew, or the session has another name now
          return refresh(true).then(function (fine) { return fine ? sendOne(item, false) : false; });
        }
        if (answer.status === 401 || answer.status === 403) {
          why = 'code';
          return false;
        }
        if (answer.status === 429 || answer.status >= 500) {
          why = reason(answer, text);
          return false;
        }
        item.state = 'refused';
        item.message = answer.status === 422 ? text : 'The server did not take it (' + answer.status
            + '). Its circle may have been renamed or removed: enter the reading for the circle it belongs to, or discard it.';
        put(item);
        tell('Not saved: ' + item.message, true);
        return true;
      });
    }, function () {
      why = '';
      return false;
    });
  }
  // what the server says, in words or as a page
  function reason(answer, text) {
    if ((answer.headers.get('Content-Type') || '').indexOf('text/html') !== 0) {
      return text;
    }
    var page = parsed(text);
    return ['h1', 'h1 ~ p'].map(function (css) {
      var part = page.querySelector(css);
      return part ? part.textContent.trim().replace(/\.?$/, '.') : '';
    }).join(' ').trim();
  }
  function arrived(item, text) {
    var said = anew(text, item.circle === here, false);
    tell(said, false);
    if (item.circle === here) {
      entered = true;
      estimate(0);
    }
  }

  // ---- pieces of the page that come from the server

  function parsed(text) {
    var piece = document.createElement('template');
    piece.innerHTML = text;
    return piece.content;
  }
  var version = '';

  // returns what the server says was done
  function anew(text, shown, byOthers) {
    var piece = parsed(text);
    var readings = piece.getElementById('readings');
    if (!readings) {
      return '';
    }
    token = readings.getAttribute('data-token');
    Array.prototype.forEach.call(document.querySelectorAll('input[name=token]'), function (input) { input.value = token; });
    if (shown) {
      var before = document.querySelector('.saved');
      var after = piece.querySelector('.saved');
      var others = byOthers && version && before && before.textContent.trim() !== after.textContent.trim();
      version = readings.getAttribute('data-version');
      var open = document.getElementById('circles').open;
      ['along', 'readings', 'circles'].forEach(function (id) {
        document.getElementById(id).replaceWith(piece.getElementById(id));
      });
      document.getElementById('circles').open = open;
      if (others) {
        tell('The folder was changed elsewhere; shown anew.', false);
      }
    }
    return readings.getAttribute('data-said');
  }
  function get(address) {
    return within(fetch(address, { headers: { 'HX-Request': 'true' }, credentials: 'same-origin' }));
  }
  // true where the server answered as it should
  function refresh(always) {
    var of = here;
    return get(of + '/readings' + (always || !version ? '' : '?version=' + version)).then(function (answer) {
      if (answer.status === 204) {
        return true;
      }
      if (answer.status === 401) {
        why = 'code';
      }
      if (!answer.ok) {
        return false;
      }
      return answer.text().then(function (text) {
        anew(text, of === here, true);
        estimate(0);
        return true;
      });
    }, function () { return false; });
  }
  // the drawing lies below the keypad; what matters of it is said beside the keypad
  function prompted(fresh) {
    var prompt = document.getElementById('prompt');
    var current = fresh.getAttribute('data-current') === 'true';
    var again = fresh.querySelectorAll('.again').length;
    var outlook = fresh.querySelector('.outlook');
    var text = !current || !entered ? '' : again ? 'Measure again? The reason stands below.' : outlook ? outlook.textContent : '';
    if (text !== prompt.textContent) {
      prompt.textContent = '';
      if (text) {
        var link = document.createElement('a');
        link.href = '#estimate';
        link.textContent = text;
        prompt.appendChild(link);
      }
    }
  }
  var asking = null;

  function estimate(tries) {
    var of = here;
    clearTimeout(asking);
    get(of + '/estimate').then(function (answer) {
      return answer.ok ? answer.text() : '';
    }, function () { return ''; }).then(function (text) {
      if (!text || of !== here) {
        return;
      }
      var old = document.getElementById('estimate');
      var piece = parsed(text);
      var fresh = piece.getElementById('estimate');
      var open = old && old.querySelector('details[open]');
      if (!old || old.outerHTML !== fresh.outerHTML) {
        var place = document.getElementById('estimate-place');
        place.textContent = '';
        place.appendChild(piece);
        if (open && fresh.querySelector('details')) {
          fresh.querySelector('details').open = true;
        }
      }
      prompted(fresh);
      if (fresh.getAttribute('data-current') !== 'true' && tries < 40) {
        asking = setTimeout(function () { estimate(tries + 1); }, Math.min(500 + 250 * tries, 5000));
      }
    });
  }

  // ---- what waits, shown

  function button(text, label, work) {
    var made = document.createElement('button');
    made.type = 'button';
    made.className = 'quiet';
    made.textContent = text;
    made.setAttribute('aria-label', label);
    made.addEventListener('click', work);
    return made;
  }
  function lengths(cells) {
    return [cells.value, cells.second, cells.third].filter(Boolean).map(function (t) { return both(t) || t; }).join(' · ');
  }
  function show() {
    var all = waiting();
    var section = document.getElementById('waiting');
    var list = document.getElementById('waiting-list');
    var refused = all.filter(function (item) { return item.state === 'refused'; });
    var open = all.length - refused.length;
    // a reading on its way for a moment is no news
    section.hidden = !all.length || (!refused.length && sending && pause === 0 && !why);
    document.getElementById('waiting-title').textContent =
        (open ? open + (open === 1 ? ' reading waits' : ' readings wait') + ' on this phone' : '')
        + (refused.length ? (open ? ', ' : '') + refused.length + ' to mend' : '');
    var saying = document.getElementById('waiting-why');
    saying.textContent = '';
    if (why === 'code') {
      saying.textContent = 'The access has ended; they stay here. ';
      var link = document.createElement('a');
      link.href = '/enter';
      link.target = '_blank';
      link.rel = 'noopener';
      link.textContent = 'Enter the code, then come back to this page';
      saying.appendChild(link);
    } else if (why) {
      saying.textContent = 'Not saved: ' + why + ' What waits is sent again by itself.';
    } else if (open) {
      saying.textContent = Object.keys(memory).some(function (key) { return key.indexOf(LEAD) === 0; })
          ? 'This browser keeps nothing when the page is closed: leave it open until they are saved.'
          : 'No connection. They are kept here and sent by themselves; you can go on measuring.';
    }
    list.textContent = '';
    all.forEach(function (item) {
      var row = document.createElement('li');
      var text = document.createElement('span');
      text.textContent = (item.undo ? 'Undo of ' : '') + 'circle ' + item.name + ': ' + item.shown
          + (item.state === 'refused' ? '\n' + item.message : '');
      row.className = item.state || '';
      row.appendChild(text);
      if (item.state === 'refused') {
        if (!item.undo) {
          row.appendChild(button('Correct', 'Correct ' + item.shown, function () { correct(item); }));
        }
        row.appendChild(button('Discard', 'Discard ' + item.shown, function () {
          drop(item.key);
          show();
        }));
      } else if (!item.undo) {
        row.appendChild(button('Undo', 'Undo ' + item.shown, function () { takeBack(item); }));
      }
      list.appendChild(row);
    });
    Array.prototype.forEach.call(document.querySelectorAll('.saved li'), function (row) {
      var leaves = all.some(function (item) { return item.undo && item.entry === row.getAttribute('data-entry'); });
      row.classList.toggle('out', leaves);
      row.querySelector('button').disabled = leaves;
    });
    undoLast.hidden = !last;
    if (last) {
      undoLast.textContent = 'Undo ' + last.shown.replace(/ \(.*/, '');
    }
  }
  function tell(text, bad) {
    if (text) {
      told.textContent = text;
      told.classList.toggle('bad', Boolean(bad));
    }
  }
  function takeBack(item) {
    last = last && last.entry === item.entry ? null : last;
    var now = waiting().filter(function (other) { return other.entry === item.entry; });
    if (now.length && !now[0].tried) {
      drop(now[0].key);
      tell('Taken out before it was sent: ' + item.shown + '.', false);
      show();
      return;
    }
    // it may be on the server: the taking out follows it there
    put({ entry: item.entry, undo: true, circle: item.circle, name: item.name, shown: item.shown, cells: { seen: item.seen || '' } });
    tell('Being taken out: ' + item.shown + '.', false);
    send();
  }
  function correct(item) {
    go(item.circle, true);
    mending = item.key;
    fill(item.cells);
    tell('Correct it and save it again.', false);
    focus(inputs[0]);
  }

  // ---- the form

  function kind() {
    return form.querySelector('input[name=kind]:checked');
  }
  function arrange() {
    inputs.forEach(function (input) {
      var label = kind().getAttribute('data-' + input.name);
      var box = input.closest('.length');
      box.hidden = !label;
      input.disabled = !label;
      box.querySelector('label').textContent = label;
    });
    if (field.disabled) {
      field = inputs[0];
    }
    tellBack();
  }
  function fill(cells) {
    Array.prototype.forEach.call(form.elements, function (element) {
      if (element.name in cells) {
        if (element.type === 'radio') {
          element.checked = element.value === cells[element.name];
        } else {
          element.value = cells[element.name];
        }
      }
    });
    arrange();
    noted();
  }
  function cells() {
    var typed = {};
    ['value', 'second', 'third', 'measurer', 'remark'].forEach(function (name) {
      var element = form.elements[name];
      typed[name] = element.disabled ? '' : element.value.trim();
    });
    typed.kind = kind().value;
    typed.bearing = (form.querySelector('input[name=bearing]:checked') || { value: '' }).value;
    return typed;
  }
  function noted() {
    var typed = cells();
    document.getElementById('noted').textContent = [typed.bearing && typed.bearing + " o'clock", typed.measurer, typed.remark]
        .filter(Boolean).join(', ');
  }
  function empty() {
    inputs.forEach(function (input) {
      input.value = '';
      input.removeAttribute('aria-invalid');
    });
    form.elements.remark.value = '';
    form.querySelector('input[name=bearing][value=""]').checked = true;
    noted();
    tellBack();
  }
  function clear() {
    empty();
    mending = null;
    drop('fairturn:draft:' + here);
    focus(inputs[0]);
  }
  // what was typed here and not saved yet
  function drafted() {
    try {
      var typed = JSON.parse(kept('fairturn:draft:' + here) || 'null');
      if (typed && !inputs[0].value) {
        fill(typed);
      }
    } catch (broken) { /* a draft nobody can read is none */ }
  }
  function draft() {
    var typed = cells();
    if (typed.value || typed.second || typed.third || typed.remark) {
      keep('fairturn:draft:' + here, JSON.stringify(typed));
    } else {
      drop('fairturn:draft:' + here);
    }
  }
  form.addEventListener('submit', function (event) {
    event.preventDefault();
    var typed = cells();
    var empty = inputs.filter(function (input) { return !input.disabled && !input.value.trim(); })[0];
    if (empty) {
      tell('Enter a length first: ' + empty.closest('.length').querySelector('label').textContent + '.', true);
      focus(empty);
      return;
    }
    var item = { entry: newEntry(), circle: here, name: name(), shown: lengths(typed), cells: typed };
    put(item);
    if (mending) {
      drop(mending);
    }
    keep('fairturn:measurer', typed.measurer);
    last = item;
    tell('Being saved: ' + item.shown + '.', false);
    clear();
    send();
  });
  form.addEventListener('input', function () {
    arrange();
    noted();
    draft();
  });
  inputs.forEach(function (input) {
    input.setAttribute('inputmode', 'none'); // the keypad below it is larger than the phone's own
    input.addEventListener('focus', function () {
      field = input;
      tellBack();
    });
  });
  function focus(input) {
    field = input;
    input.focus({ preventScroll: true });
  }
  undoLast.addEventListener('click', function () {
    if (last) {
      takeBack(last);
    }
  });

  // ---- both units at once, as the server works them out

  var NUMBER = '(\\d+(?:\\.\\d*)?|\\.\\d+)';
  var FEET = new RegExp('^(?:' + NUMBER + ' ft)?(?: ?(\\d+(?:\\.\\d*)?|\\.\\d+))?(?: ?(\\d+)/(\\d+))?( in)?$');
  var METRIC = new RegExp('^' + NUMBER + '(?: (m|cm|mm|in|ft))?$');
  var METRES = { m: 1, cm: 0.01, mm: 0.001, 'in': 0.0254, ft: 0.3048 };

  // empty where only the server can tell
  function both(text) {
    var typed = text.trim();
    var bare = root.getAttribute('data-unit');
    var plain = METRIC.exec(typed);
    if (plain) {
      var unit = plain[2] || bare;
      return typed + (plain[2] ? '' : ' ' + bare) + other(Number(plain[1]) * METRES[unit], unit === 'in' || unit === 'ft');
    }
    var feet = FEET.exec(typed);
    if (!feet || !typed || (feet[3] && !(Number(feet[3]) < Number(feet[4]))) || (feet[3] && feet[2] && feet[2].indexOf('.') >= 0)
        || (!feet[1] && !feet[5] && bare !== 'in')) {
      return '';
    }
    var inches = Number(feet[2] || 0) + (feet[3] ? Number(feet[3]) / Number(feet[4]) : 0);
    if (feet[1] && inches >= 12) {
      return '';
    }
    return typed + (feet[1] || feet[5] ? '' : ' ' + bare) + other(Number(feet[1] || 0) * 0.3048 + inches * 0.0254, true);
  }
  function other(metres, inch) {
    if (inch) {
      return ' (' + (Math.floor(metres * 1000 + 0.5 + 1e-7) / 1000).toFixed(3) + ' m)';
    }
    var eighths = Math.round(metres / 0.0254 * 8);
    var rest = eighths % 8;
    var whole = (eighths - rest) / 8;
    var common = rest % 4 === 0 ? 4 : rest % 2 === 0 ? 2 : 1;
    var fraction = rest ? rest / common + '/' + 8 / common : '';
    return ' (' + (whole || !rest ? whole + (rest ? ' ' : '') : '') + fraction + ' in)';
  }
  var asked = null;

  function tellBack() {
    clearTimeout(asked);
    var typed = field.value.trim();
    var known = both(typed);
    echo.textContent = known ? '= ' + known : typed ? '…' : '';
    if (typed && !known) {
      asked = setTimeout(function () {
        get(root.getAttribute('data-trial') + '/length?text=' + encodeURIComponent(typed)).then(function (answer) {
          return answer.ok ? answer.text() : '…';
        }, function () { return '… (no connection to look it up; it can be saved all the same)'; }).then(function (text) {
          if (field.value.trim() === typed) {
            echo.textContent = text;
          }
        });
      }, 350);
    }
  }

  // ---- the keypad

  var INCH = [['7'], ['8'], ['9'], ['ft', 'unit'], ['1/8', 'side'], ['5/8', 'side'],
    ['4'], ['5'], ['6'], ['in', 'unit'], ['1/4', 'side'], ['3/4', 'side'],
    ['1'], ['2'], ['3'], ['⌫'], ['3/8', 'side'], ['7/8', 'side'],
    ['.'], ['0'], ['clear', 'side'], ['next', 'side'], ['1/2', 'side'], ['m', 'unit']];
  var METRIC_KEYS = [['7'], ['8'], ['9'], ['m', 'unit three'],
    ['4'], ['5'], ['6'], ['cm', 'unit three'],
    ['1'], ['2'], ['3'], ['⌫'], ['mm', 'unit two'],
    ['.'], ['0'], ['clear', 'side'], ['next', 'side'], ['abc', 'side'], ['ft', 'unit']];
  var SAID = { '⌫': 'Delete the last', clear: 'Clear the field', next: 'Next field', abc: "The phone's own keyboard", ft: 'feet',
    'in': 'inches', m: 'metres', cm: 'centimetres', mm: 'millimetres', '.': 'point' };
  var inch = (kept('fairturn:inch') || String(/^(in|ft)$/.test(root.getAttribute('data-unit')))) === 'true';

  function drawKeys() {
    keys.textContent = '';
    (inch ? INCH : METRIC_KEYS).forEach(function (key) {
      var made = document.createElement('button');
      var swaps = key[0] === (inch ? 'm' : 'ft');
      made.type = 'button';
      made.className = key[1] || '';
      made.textContent = swaps ? (inch ? '→ m' : '→ ft') : key[0];
      made.setAttribute('data-key', swaps ? 'swap' : key[0]);
      made.setAttribute('aria-label', swaps ? (inch ? 'Metric keys' : 'Feet and inch keys') : SAID[key[0]] || key[0]);
      keys.appendChild(made);
    });
    keys.setAttribute('role', 'group');
    keys.setAttribute('aria-label', inch ? 'Keypad, feet and inches' : 'Keypad, metric');
    keys.hidden = false;
  }
  function pressed(text, key) {
    var number = /(\d+(?:\.\d*)?|\.\d+)$/;
    var fraction = /\d+\/\d+( in)?$/;
    if (/^\d$/.test(key)) {
      if (fraction.test(text) || / (in|m|cm|mm)$/.test(text)) {
        return text;
      }
      return text + (/ ft$/.test(text) ? ' ' : '') + key;
    }
    if (key === '.') {
      return / in$|\d\.\d*$|\//.test(text) || / (m|cm|mm)$/.test(text) ? text : text + (/ ft$/.test(text) ? ' ' : '') + '.';
    }
    if (key === 'ft') {
      return /^[\d.]*\d\.?$/.test(text) ? text + ' ft' : text;
    }
    if (key === 'in') {
      return number.test(text) && !/ (in|m|cm|mm)$/.test(text) ? text + ' in' : text;
    }
    if (/^\d\/\d$/.test(key)) {
      if (/ (m|cm|mm)$/.test(text) || /\.\d*( in)?$/.test(text)) {
        return text;
      }
      var whole = text.replace(/ ?\d+\/\d+( in)?$/, '').replace(/ in$/, '');
      return whole + (whole ? ' ' : '') + key + ' in';
    }
    if (/^(m|cm|mm)$/.test(key)) {
      var bare = text.replace(/ (m|cm|mm)$/, '');
      return number.test(bare) && !/ (ft|in)/.test(bare) && bare.indexOf('/') < 0 ? bare + ' ' + key : text;
    }
    if (key === '⌫') {
      return text.replace(/( ?\d+\/\d+ in| ?(?:ft|in|mm|cm|m)|.) ?$/, '');
    }
    return key === 'clear' ? '' : text;
  }
  keys.addEventListener('click', function (event) {
    var key = event.target.closest('button');
    if (!key) {
      return;
    }
    key = key.getAttribute('data-key');
    if (key === 'swap') {
      inch = !inch;
      keep('fairturn:inch', String(inch));
      drawKeys();
    } else if (key === 'next') {
      var open = inputs.filter(function (input) { return !input.disabled; });
      focus(open[(open.indexOf(field) + 1) % open.length]);
    } else if (key === 'abc') {
      field.setAttribute('inputmode', 'text');
      field.blur();
      field.focus();
      field.setAttribute('inputmode', 'none');
    } else {
      field.value = pressed(field.value, key);
      tellBack();
      draft();
    }
  });
  // the field keeps the focus and its place while keys are touched
  keys.addEventListener('pointerdown', function (event) { event.preventDefault(); });

  // ---- from circle to circle, with or without the server

  function place(path) {
    return path.replace(/\/(readings|undo)$/, '');
  }
  function links() {
    return Array.prototype.slice.call(document.querySelectorAll('#circles a.go'));
  }
  function linkOf(address) {
    return links().filter(function (link) { return link.getAttribute('href') === address; })[0];
  }
  function name() {
    var link = linkOf(here);
    return link ? link.getAttribute('data-id') : '';
  }
  function go(address, push) {
    var link = linkOf(address);
    if (!link || address === here) {
      return address === here;
    }
    draft();
    here = address;
    if (push) {
      history.pushState(null, '', address);
    }
    document.title = 'Circle ' + link.getAttribute('data-id') + ' – Fairturn';
    document.querySelector('h1').textContent = 'Circle ' + link.getAttribute('data-id');
    document.getElementById('arrow').textContent = link.getAttribute('data-turn').toLowerCase() === 'left' ? '↺' : '↻';
    document.getElementById('turn').textContent = link.getAttribute('data-turn') + ', ' + link.getAttribute('data-drive');
    document.getElementById('machine').textContent = link.getAttribute('data-machine');
    document.getElementById('unused').hidden = link.getAttribute('data-used') === 'true';
    form.action = address + '/readings';
    var all = links();
    all.forEach(function (one) {
      if (one === link) {
        one.setAttribute('aria-current', 'page');
      } else {
        one.removeAttribute('aria-current');
      }
    });
    var along = document.querySelector('.along');
    along.textContent = '';
    [[-1, '← before'], [1, 'next circle →']].forEach(function (step) {
      var to = all[all.indexOf(link) + step[0]];
      if (to) {
        var made = document.createElement('a');
        made.className = 'button quiet go';
        made.href = to.getAttribute('href');
        made.textContent = step[1];
        along.appendChild(made);
      }
    });
    document.getElementById('circles').open = false;
    document.getElementById('readings-title').textContent = 'Readings of circle ' + link.getAttribute('data-id');
    document.querySelector('.saved').textContent = '';
    document.getElementById('estimate-place').textContent = '';
    Array.prototype.forEach.call(document.querySelectorAll('#readings > p, .taken'), function (old) { old.remove(); });
    version = '';
    last = null;
    mending = null;
    empty();
    drafted();
    focus(inputs[0]);
    entered = false;
    told.textContent = '';
    document.getElementById('prompt').textContent = '';
    window.scrollTo(0, 0);
    refresh(true).then(function (fine) {
      if (!fine && here === address) {
        tell('Circle ' + link.getAttribute('data-id') + ': no connection, so readings saved before are not shown.', false);
      }
      show();
    });
    return true;
  }
  document.addEventListener('click', function (event) {
    var link = event.target.closest('a.go');
    if (link && !event.ctrlKey && !event.metaKey && !event.shiftKey && go(link.getAttribute('href'), true)) {
      event.preventDefault();
    }
  });
  window.addEventListener('popstate', function () {
    if (!go(location.pathname, false)) {
      location.reload();
    }
  });
  document.addEventListener('submit', function (event) {
    var undo = event.target.closest('form.undo');
    var entry = undo && undo.elements.entry.value;
    if (entry) { // a row typed by hand has no id, so its undo could not be sent twice: that one goes the plain way
      event.preventDefault();
      takeBack({ entry: entry, circle: here, name: name(), seen: undo.elements.seen.value,
        shown: undo.closest('li').querySelector('strong').textContent });
    }
  });

  // ---- begin

  function wake() {
    if (document.visibilityState !== 'hidden') {
      pause = 0;
      send();
    }
  }
  window.addEventListener('online', wake);
  window.addEventListener('focus', wake);
  document.addEventListener('visibilitychange', wake);
  window.addEventListener('storage', function (event) {
    if (!event.key || event.key.indexOf(LEAD) === 0) {
      show();
    }
  });
  setInterval(function () {
    if (document.visibilityState !== 'hidden') {
      refresh(false);
    }
  }, 15000);

  version = document.getElementById('readings').getAttribute('data-version');
  if (!form.elements.measurer.value) {
    form.elements.measurer.value = kept('fairturn:measurer') || '';
  }
  drafted();
  drawKeys();
  arrange();
  noted();
  if (!document.querySelector('main [aria-invalid]')) {
    focus(inputs[0]);
  }
  send();
  if (document.getElementById('estimate').getAttribute('data-current') !== 'true') {
    estimate(0);
  }
})();
