// The map page: unfolds the packed data (packing.py), paints it on one canvas, and offers search,
// legend, card and list. Text that people typed reaches the page through textContent alone.
// Comments stand on lines of their own and no string runs over a line: page.py drops both comments
// and indentation before the script is put into a page.
"use strict";
var neighborhoodMap = (function () {
  var LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
  var DIGIT = new Uint8Array(128);
  for (var at = 0; at < 64; at++) DIGIT[LETTERS.charCodeAt(at)] = at;
  var EARTH_M = 40075016.686;
  var ROWS_AT_ONCE = 200;
  var HITS_SHOWN = 8;

  // ---- unfolding -------------------------------------------------------------------------------
  function unpackNumbers(text) {
    var out = new Int32Array(text.length), n = 0, value = 0, shift = 0;
    for (var i = 0; i < text.length; i++) {
      var digit = DIGIT[text.charCodeAt(i)];
      value |= (digit & 31) << shift;
      if (digit & 32) shift += 5;
      else { out[n++] = (value >>> 1) ^ -(value & 1); value = shift = 0; }
    }
    return out.subarray(0, n);
  }

  function unpackCodes(text, width, n) {
    var out = new Int32Array(n);
    if (width) for (var i = 0, p = 0; i < n; i++) {
      var value = 0;
      for (var j = 0; j < width; j++) value = value * 64 + DIGIT[text.charCodeAt(p++)];
      out[i] = value;
    }
    return out;
  }

  function unpackColumn(packed, n) {
    var codes = unpackCodes(packed.k, packed.w, n), texts = packed.d;
    if (packed.n === undefined) return function (i) { return texts[codes[i]]; };
    var heads = unpackNumbers(packed.n);
    for (var i = 1; i < n; i++) heads[i] += heads[i - 1];
    return function (i) { return heads[i] > 0 ? heads[i] - 1 + texts[codes[i]] : texts[codes[i]]; };
  }

  // Differences of corners to the unit square of the web Mercator projection.
  function unpackCorners(packed) {
    var steps = unpackNumbers(packed.c), corners = unpackNumbers(packed.v);
    var total = steps.length / 2, start = new Int32Array(corners.length + 1);
    var x = new Float64Array(total), y = new Float64Array(total);
    for (var r = 0, p = 0, lon0 = 0, lat0 = 0; r < corners.length; r++) {
      start[r] = p;
      var lon = lon0, lat = lat0;
      for (var j = 0; j < corners[r]; j++, p++) {
        lon += steps[2 * p];
        lat += steps[2 * p + 1];
        if (!j) { lon0 = lon; lat0 = lat; }
        var s = Math.sin(lat * 1e-6 * Math.PI / 180);
        x[p] = lon / 360e6 + 0.5;
        y[p] = 0.5 - Math.log((1 + s) / (1 - s)) / (4 * Math.PI);
      }
    }
    start[corners.length] = p;
    return { x: x, y: y, start: start };
  }

  function unpackShapes(packed) {
    var shapes = unpackCorners(packed), rings = unpackNumbers(packed.r), n = packed.n;
    var first = new Int32Array(n + 1), box = new Float64Array(4 * n);
    for (var i = 0, r = 0; i < n; i++) {
      first[i] = r;
      r += rings[i];
      var x0 = Infinity, y0 = Infinity, x1 = -Infinity, y1 = -Infinity;
      for (var p = shapes.start[first[i]]; p < shapes.start[r]; p++) {
        if (shapes.x[p] < x0) x0 = shapes.x[p];
        if (shapes.x[p] > x1) x1 = shapes.x[p];
        if (shapes.y[p] < y0) y0 = shapes.y[p];
        if (shapes.y[p] > y1) y1 = shapes.y[p];
      }
      box[4 * i] = x0; box[4 * i + 1] = y0; box[4 * i + 2] = x1; box[4 * i + 3] = y1;
    }
    first[n] = r;
    shapes.n = n; shapes.first = first; shapes.box = box; shapes.spots = {};
    return shapes;
  }

  // Where a letter fits: on the level of the middle, halfway along the widest stretch inside.
  function spotOf(shapes, i) {
    if (shapes.spots[i]) return shapes.spots[i];
    var box = shapes.box, level = (box[4 * i + 1] + box[4 * i + 3]) / 2, cuts = [];
    for (var r = shapes.first[i]; r < shapes.first[i + 1]; r++) {
      var end = shapes.start[r + 1];
      for (var p = shapes.start[r], q = end - 1; p < end; q = p++) {
        if (shapes.y[p] > level !== shapes.y[q] > level) {
          var t = (level - shapes.y[p]) / (shapes.y[q] - shapes.y[p]);
          cuts.push(shapes.x[p] + t * (shapes.x[q] - shapes.x[p]));
        }
      }
    }
    cuts.sort(function (a, b) { return a - b; });
    var best = { x: (box[4 * i] + box[4 * i + 2]) / 2, y: level, w: 0 };
    for (var c = 0; c + 1 < cuts.length; c += 2) {
      if (cuts[c + 1] - cuts[c] > best.w) best = { x: (cuts[c] + cuts[c + 1]) / 2, y: level, w: cuts[c + 1] - cuts[c] };
    }
    shapes.spots[i] = best;
    return best;
  }

  function contains(shapes, i, x, y) {
    var inside = false;
    for (var r = shapes.first[i]; r < shapes.first[i + 1]; r++) {
      var end = shapes.start[r + 1];
      for (var p = shapes.start[r], q = end - 1; p < end; q = p++) {
        if (shapes.y[p] > y !== shapes.y[q] > y &&
            x < (shapes.x[q] - shapes.x[p]) * (y - shapes.y[p]) / (shapes.y[q] - shapes.y[p]) + shapes.x[p]) inside = !inside;
      }
    }
    return inside;
  }

  // A grid of cells over the shapes, so that what lies under the pointer is found without a scan.
  function gridOver(shapes) {
    var all = extent(shapes), side = Math.max(1, Math.ceil(Math.sqrt(shapes.n))), cells = new Map();
    var dx = (all[2] - all[0]) / side || 1, dy = (all[3] - all[1]) / side || 1;
    function cell(v, low, step) { return Math.max(0, Math.min(side - 1, Math.floor((v - low) / step))); }
    for (var i = 0; i < shapes.n; i++) {
      if (!(shapes.box[4 * i] < Infinity)) continue;
      var cx1 = cell(shapes.box[4 * i + 2], all[0], dx), cy1 = cell(shapes.box[4 * i + 3], all[1], dy);
      for (var cy = cell(shapes.box[4 * i + 1], all[1], dy); cy <= cy1; cy++) {
        for (var cx = cell(shapes.box[4 * i], all[0], dx); cx <= cx1; cx++) {
          var key = cy * side + cx;
          if (!cells.has(key)) cells.set(key, []);
          cells.get(key).push(i);
        }
      }
    }
    return function (x, y) {
      if (x < all[0] || x > all[2] || y < all[1] || y > all[3]) return [];
      return cells.get(cell(y, all[1], dy) * side + cell(x, all[0], dx)) || [];
    };
  }

  function extent(shapes) {
    var all = [Infinity, Infinity, -Infinity, -Infinity];
    for (var i = 0; i < shapes.n; i++) {
      all[0] = Math.min(all[0], shapes.box[4 * i]);
      all[1] = Math.min(all[1], shapes.box[4 * i + 1]);
      all[2] = Math.max(all[2], shapes.box[4 * i + 2]);
      all[3] = Math.max(all[3], shapes.box[4 * i + 3]);
    }
    return all;
  }

  function toLatLng(x, y) {
    return L.latLng(Math.atan(Math.sinh(Math.PI * (1 - 2 * y))) * 180 / Math.PI, x * 360 - 180);
  }

  // ---- looks -----------------------------------------------------------------------------------
  // One opaque tile of a class's fill and pattern; `size` is its width in CSS pixels.
  function tileOf(look, size, ratio) {
    var tile = document.createElement("canvas"), ctx = tile.getContext("2d");
    var s = tile.width = tile.height = Math.round(size * ratio), w = Math.max(0.7, size / 8.5) * ratio;
    ctx.fillStyle = look.fill;
    ctx.fillRect(0, 0, s, s);
    ctx.strokeStyle = ctx.fillStyle = look.ink;
    ctx.lineWidth = w;
    ctx.beginPath();
    function line(x0, y0, x1, y1) { ctx.moveTo(x0 * s, y0 * s); ctx.lineTo(x1 * s, y1 * s); }
    if (look.pattern === "hatch" || look.pattern === "crosshatch") {
      line(-0.5, 0.5, 0.5, -0.5); line(-0.5, 1.5, 1.5, -0.5); line(0.5, 1.5, 1.5, 0.5);
    }
    if (look.pattern === "backhatch" || look.pattern === "crosshatch") {
      line(-0.5, 0.5, 0.5, 1.5); line(-0.5, -0.5, 1.5, 1.5); line(0.5, -0.5, 1.5, 0.5);
    }
    if (look.pattern === "bars") line(0.5, 0, 0.5, 1);
    if (look.pattern === "lines") line(0, 0.5, 1, 0.5);
    ctx.stroke();
    if (look.pattern === "dots") {
      ctx.beginPath();
      ctx.arc(s / 2, s / 2, Math.max(0.7 * ratio, s / 6.5), 0, 2 * Math.PI);
      ctx.fill();
    }
    return tile;
  }

  function isTiled(look) { return look.pattern !== "plain" && look.pattern !== "ring"; }

  function paintSwatch(canvas, look) {
    var ratio = 3, w = 34, h = 24, ctx = canvas.getContext("2d");
    canvas.width = w * ratio; canvas.height = h * ratio;
    ctx.scale(ratio, ratio);
    ctx.fillStyle = isTiled(look) ? ctx.createPattern(tileOf(look, 7, 1), "repeat") : look.fill;
    if (isTiled(look)) {
      var fill = ctx.createPattern(tileOf(look, 7, ratio), "repeat");
      fill.setTransform(new DOMMatrix().scale(1 / ratio));
      ctx.fillStyle = fill;
    }
    ctx.fillRect(1, 1, w - 2, h - 2);
    ctx.strokeStyle = look.outline;
    ctx.lineWidth = 1.5;
    ctx.strokeRect(1, 1, w - 2, h - 2);
    if (look.letter) letterAt(ctx, look, look.letter, w / 2, h / 2, 13, 700);
    else if (look.pattern === "ring") ringAt(ctx, look, w / 2, h / 2, 4);
  }

  function ringAt(ctx, look, x, y, radius) {
    ctx.beginPath();
    ctx.arc(x, y, radius, 0, 2 * Math.PI);
    ctx.strokeStyle = look.ink;
    ctx.lineWidth = Math.max(0.9, radius / 3);
    ctx.stroke();
  }

  function letterAt(ctx, look, text, x, y, size, weight) {
    ctx.font = weight + " " + size + "px system-ui, sans-serif";
    ctx.textAlign = "center";
    ctx.textBaseline = "middle";
    ctx.lineJoin = "round";
    ctx.lineWidth = size / 3.2;
    ctx.strokeStyle = look.fill;
    ctx.strokeText(text, x, y + size * 0.05);
    ctx.fillStyle = look.text;
    ctx.fillText(text, x, y + size * 0.05);
  }

  // ---- painting --------------------------------------------------------------------------------
  var Painter = L.Renderer.extend({
    options: { padding: 0.2 },
    initialize: function (scene) { L.Renderer.prototype.initialize.call(this, {}); this.scene = scene; },
    _initContainer: function () {
      this._container = document.createElement("canvas");
      this._container.setAttribute("aria-hidden", "true");
      this._ctx = this._container.getContext("2d");
    },
    _destroyContainer: function () { L.DomUtil.remove(this._container); delete this._container; },
    _updatePaths: function () {},
    _update: function () {
      if (this._map._animatingZoom && this._bounds) return;
      L.Renderer.prototype._update.call(this);
      var size = this._bounds.getSize(), canvas = this._container;
      this.ratio = this.scene.printing ? 3 : Math.min(3, window.devicePixelRatio || 1);
      L.DomUtil.setPosition(canvas, this._bounds.min);
      canvas.width = Math.round(size.x * this.ratio);
      canvas.height = Math.round(size.y * this.ratio);
      canvas.style.width = size.x + "px";
      canvas.style.height = size.y + "px";
      this.paint();
    },
    paint: function () {
      var scene = this.scene, view = scene.view, ctx = this._ctx, low = this._bounds.min, size = this._bounds.getSize();
      var zoom = this._map.getZoom(), origin = this._map.getPixelOrigin(), k = 256 * Math.pow(2, zoom);
      var mid = this._map.getCenter().lat * Math.PI / 180, ratio = this.ratio;
      var f = { k: k, ox: origin.x, oy: origin.y, perMeter: k / (EARTH_M * Math.cos(mid)),
        x0: (low.x + origin.x) / k, y0: (low.y + origin.y) / k,
        x1: (low.x + size.x + origin.x) / k, y1: (low.y + size.y + origin.y) / k };
      ctx.setTransform(ratio, 0, 0, ratio, -low.x * ratio, -low.y * ratio);
      ctx.globalAlpha = 1;
      ctx.fillStyle = scene.paper;
      ctx.fillRect(low.x, low.y, size.x, size.y);
      if (view.areas) {
        this.fill(view, f);
        this.paintStreets(f, 0.85);
        if (scene.sets[0] !== view.set) this.outline(scene.sets[0], f);
        this.stroke(view, f);
      } else {
        this.paintStreets(f, 1);
        this.fill(view, f);
        this.stroke(view, f);
      }
      this.cues(view, f);
      this.streetNames(f);
      scene.drawn = view.set.shapes.n;
    },
    // Paths of the visible shapes of each class, a few hundred shapes to a path: one path of 20,000
    // shapes fills slowly, 20,000 paths of one shape stroke slowly.
    paths: function (view, f) {
      var shapes = view.set.shapes, box = shapes.box, out = [], open = [], x = shapes.x, y = shapes.y;
      for (var i = 0; i < shapes.n; i++) {
        var c = view.codes[i], b = 4 * i;
        if (!view.on[c] || !(box[b] <= f.x1 && box[b + 2] >= f.x0 && box[b + 1] <= f.y1 && box[b + 3] >= f.y0)) continue;
        var entry = open[c];
        if (!entry || entry.n >= 100) {
          entry = open[c] = { c: c, n: 0, path: new Path2D() };
          out.push(entry);
        }
        entry.n++;
        for (var r = shapes.first[i]; r < shapes.first[i + 1]; r++) {
          var p = shapes.start[r], end = shapes.start[r + 1];
          entry.path.moveTo(x[p] * f.k - f.ox, y[p] * f.k - f.oy);
          for (p++; p < end; p++) entry.path.lineTo(x[p] * f.k - f.ox, y[p] * f.k - f.oy);
          entry.path.closePath();
        }
      }
      return out;
    },
    fill: function (view, f) {
      var ctx = this._ctx, ratio = this.ratio, lot = view.set.typical * f.k;
      var tile = view.areas || lot >= 40 ? 8 : lot >= 14 ? 7 : 5, fills = view.classes.map(function (look) {
        if (!isTiled(look)) return look.fill;
        var pattern = ctx.createPattern(tileOf(look, tile, ratio), "repeat");
        var real = Math.round(tile * ratio) / tile;
        pattern.setTransform(new DOMMatrix().scale(1 / real));
        return pattern;
      });
      view.paths = this.paths(view, f);
      view.paths.forEach(function (entry) {
        ctx.fillStyle = fills[entry.c];
        ctx.fill(entry.path, "nonzero");
      });
    },
    stroke: function (view, f) {
      var ctx = this._ctx;
      ctx.lineJoin = "round";
      ctx.lineWidth = view.areas ? 1.6 : Math.max(0.4, Math.min(1.5, view.set.typical * f.k / 26));
      view.paths.forEach(function (entry) {
        ctx.strokeStyle = view.classes[entry.c].outline;
        ctx.stroke(entry.path);
      });
      view.paths = null;
    },
    outline: function (set, f) {
      var ctx = this._ctx, whole = { set: set, codes: new Int32Array(set.shapes.n), on: [true] };
      ctx.lineWidth = 0.6;
      ctx.strokeStyle = "rgba(31,42,51,.28)";
      this.paths(whole, f).forEach(function (entry) { ctx.stroke(entry.path); });
    },
    paintStreets: function (f, alpha) {
      var streets = this.scene.streets, ctx = this._ctx;
      if (!streets) return;
      ctx.beginPath();
      for (var r = 0; r + 1 < streets.start.length; r++) {
        for (var p = streets.start[r]; p < streets.start[r + 1]; p++) {
          var px = streets.x[p] * f.k - f.ox, py = streets.y[p] * f.k - f.oy;
          if (p === streets.start[r]) ctx.moveTo(px, py);
          else ctx.lineTo(px, py);
        }
      }
      ctx.lineCap = ctx.lineJoin = "round";
      ctx.globalAlpha = alpha;
      var width = Math.max(1.2, streets.width * f.perMeter);
      ctx.strokeStyle = this.scene.curb;
      ctx.lineWidth = width + Math.min(1.6, width / 3);
      ctx.stroke();
      ctx.strokeStyle = this.scene.street;
      ctx.lineWidth = width;
      ctx.stroke();
      ctx.globalAlpha = 1;
    },
    // Letters, open circles and short marks (a house number, a share), where a shape is large enough.
    cues: function (view, f) {
      var set = view.set, shapes = set.shapes, box = shapes.box, ctx = this._ctx, lot = set.typical * f.k;
      if (lot < 7 && !view.areas) return;
      for (var i = 0; i < shapes.n; i++) {
        var look = view.classes[view.codes[i]], b = 4 * i;
        if (!view.on[view.codes[i]] || !(box[b] <= f.x1 && box[b + 2] >= f.x0 && box[b + 1] <= f.y1 && box[b + 3] >= f.y0)) continue;
        var wide = (box[b + 2] - box[b]) * f.k, tall = (box[b + 3] - box[b + 1]) * f.k, room = Math.min(wide, tall);
        if (room < 6) continue;
        var spot = spotOf(shapes, i), x = spot.x * f.k - f.ox, y = spot.y * f.k - f.oy;
        var mark = view.areas ? (set.marks ? set.marks(i) : look.letter) : set.marks && room > 34 ? set.marks(i) : "";
        if (view.areas) {
          if (mark && wide > 9 * mark.length && tall > 18) letterAt(ctx, look, mark, x, y, 14, 700);
          continue;
        }
        var size = Math.max(10, Math.min(17, room * 0.3)), lift = mark ? size * 0.62 : 0;
        if (look.letter && lot > 15 && room > 15) letterAt(ctx, look, look.letter, x, y - lift, size, 700);
        else if (look.pattern === "ring") ringAt(ctx, look, x, y - lift, Math.max(1.1, Math.min(5, room * 0.11)));
        if (mark && spot.w * f.k > 6 * mark.length) letterAt(ctx, look, mark, x, y + size * 0.6, Math.max(9, size * 0.72), 500);
      }
    },
    // A name is written along the longest fairly straight stretch of each street that has room for it.
    streetNames: function (f) {
      var streets = this.scene.streets, ctx = this._ctx, size = 12, taken = [];
      if (!streets || !streets.name || streets.width * f.perMeter < 4.5) return;
      size = Math.max(11, Math.min(15, streets.width * f.perMeter * 0.8));
      ctx.font = "500 " + size + "px system-ui, sans-serif";
      ctx.textAlign = "center"; ctx.textBaseline = "middle"; ctx.lineJoin = "round";
      for (var r = 0; r + 1 < streets.start.length; r++) {
        var name = streets.name(streets.row[r]);
        if (!name) continue;
        var room = ctx.measureText(name).width + 10, best = null, from = streets.start[r], last = streets.start[r + 1] - 1;
        for (var p = from; p < last; p++) {
          var ax = streets.x[p] * f.k - f.ox, ay = streets.y[p] * f.k - f.oy, run = 0, lastAngle = null;
          for (var q = p + 1; q <= last; q++) {
            var sx = (streets.x[q] - streets.x[q - 1]) * f.k, sy = (streets.y[q] - streets.y[q - 1]) * f.k;
            var angle = Math.atan2(sy, sx);
            if (lastAngle !== null && Math.abs(Math.sin(angle - lastAngle)) > 0.16) break;
            if (lastAngle === null) lastAngle = angle;
            run = Math.hypot(streets.x[q] * f.k - f.ox - ax, streets.y[q] * f.k - f.oy - ay);
            if (run > room && (!best || run > best.run)) {
              best = { run: run, x: (ax + streets.x[q] * f.k - f.ox) / 2, y: (ay + streets.y[q] * f.k - f.oy) / 2,
                angle: Math.atan2(streets.y[q] * f.k - f.oy - ay, streets.x[q] * f.k - f.ox - ax) };
            }
          }
        }
        if (!best) continue;
        var wx = (best.x + f.ox) / f.k, wy = (best.y + f.oy) / f.k;
        if (wx < f.x0 || wx > f.x1 || wy < f.y0 || wy > f.y1) continue;
        var clash = taken.some(function (t) {
          var d = Math.hypot(t.x - best.x, t.y - best.y);
          return d < (t.room + room) / 2.4 || (t.name === name && d < 420);
        });
        if (clash) continue;
        taken.push({ x: best.x, y: best.y, room: room, name: name });
        ctx.save();
        ctx.translate(best.x, best.y);
        ctx.rotate(Math.abs(best.angle) > Math.PI / 2 ? best.angle + Math.PI : best.angle);
        ctx.lineWidth = 3.5; ctx.strokeStyle = this.scene.street; ctx.strokeText(name, 0, 0);
        ctx.fillStyle = this.scene.streetInk; ctx.fillText(name, 0, 0);
        ctx.restore();
      }
    }
  });

  // ---- the page --------------------------------------------------------------------------------
  function el(tag, attributes, children) {
    var node = document.createElement(tag);
    for (var name in attributes || {}) {
      if (name === "text") node.textContent = attributes[name];
      else if (name === "on") for (var event in attributes.on) node.addEventListener(event, attributes.on[event]);
      else node.setAttribute(name, attributes[name]);
    }
    (children || []).forEach(function (child) { if (child) node.appendChild(child); });
    return node;
  }
  function byId(id) { return document.getElementById(id); }
  function empty(node) { while (node.firstChild) node.removeChild(node.firstChild); return node; }
  function plain(text) { return text.toLowerCase().normalize("NFKD").replace(/[\u0300-\u036f]/g, ""); }
  function words(text) { return plain(text).split(/[^0-9a-z\u0080-\uffff]+/).filter(Boolean); }
  function count(n) { return n.toLocaleString(document.documentElement.lang || "en"); }
  function swatchOf(look) { var c = el("canvas", { "class": "swatch", "aria-hidden": "true" }); paintSwatch(c, look); return c; }

  return function (map, data) {
    var scene = { paper: data.paper, street: data.street, curb: data.curb, streetInk: data.streetInk };
    scene.sets = data.sets.map(function (packed) {
      var shapes = unpackShapes(packed.shapes), n = shapes.n, fields = [], columns = packed.columns.map(function (column) {
        var read = null;
        return function (i) { read = read || unpackColumn(column, n); return read(i); };
      });
      packed.fields.forEach(function (field) { fields.push({ label: field[0], read: columns[field[1]] }); });
      var widths = [];
      for (var i = 0; i < n; i += Math.ceil(n / 500)) {
        var side = Math.min(shapes.box[4 * i + 2] - shapes.box[4 * i], shapes.box[4 * i + 3] - shapes.box[4 * i + 1]);
        if (side > 0) widths.push(side);
      }
      widths.sort(function (a, b) { return a - b; });
      var names = packed.names === null ? null : columns[packed.names], marks = null;
      if (packed.marks !== null) marks = columns[packed.marks];
      else if (packed.numbered && names) marks = function (i) { var m = /^\d+[A-Za-z]?(?= )/.exec(names(i)); return m ? m[0] : ""; };
      return { shapes: shapes, fields: fields, names: names, marks: marks, one: packed.noun[0], many: packed.noun[1],
        nameLabel: packed.nameLabel, typical: widths[widths.length >> 1] || 1e-7 };
    });
    if (data.streets) {
      scene.streets = unpackCorners(data.streets.lines);
      scene.streets.width = data.streets.width;
      scene.streets.row = unpackNumbers(data.streets.lines.o);
      for (var s = 1; s < scene.streets.row.length; s++) scene.streets.row[s] += scene.streets.row[s - 1];
      if (data.streets.names) scene.streets.name = unpackColumn(data.streets.names, data.streets.rows);
    }
    scene.views = data.views.map(function (packed) {
      var set = scene.sets[packed.set];
      return { label: packed.label, set: set, areas: packed.areas, classes: packed.classes,
        codes: unpackCodes(packed.codes[0], packed.codes[1], set.shapes.n),
        on: packed.classes.map(function () { return true; }) };
    });
    scene.view = scene.views[0];

    var stage = byId("stage"), card = byId("card"), tip = byId("tip"), list = byId("list"), status = byId("status");
    var calm = window.matchMedia("(prefers-reduced-motion: reduce)").matches;
    var chosen = null, hovered = -1, rings = L.layerGroup().addTo(map), halo = L.layerGroup().addTo(map), back = null;
    var sketch = L.svg({ padding: 0.5 });
    if (window.self !== window.top) document.documentElement.classList.add("embedded");

    function boundsOf(box) { return L.latLngBounds(toLatLng(box[0], box[3]), toLatLng(box[2], box[1])); }
    var whole = data.sets.length ? extent(scene.sets[0].shapes) : null;
    if (!(whole[0] < whole[2])) whole = [0.49, 0.49, 0.51, 0.51];
    function fit(animate) { map.fitBounds(boundsOf(whole), { padding: [14, 14], animate: !!animate && !calm }); }
    fit(false);
    var limit = boundsOf(whole).pad(1);
    map.setMaxBounds(limit);
    map.setMinZoom(Math.max(0, map.getZoom() - 1.5));
    if (map.attributionControl) map.attributionControl.setPrefix(false);
    var painter = new Painter(scene).addTo(map);

    function look(i) { return scene.view.classes[scene.view.codes[i]]; }
    function title(set, i) { return (set.names && set.names(i)) || set.one.charAt(0).toUpperCase() + set.one.slice(1) + " " + (i + 1); }

    function outlineOf(set, i, group, styles) {
      var shapes = set.shapes, parts = [];
      group.clearLayers();
      for (var r = shapes.first[i]; r < shapes.first[i + 1]; r++) {
        var ring = [];
        for (var p = shapes.start[r]; p < shapes.start[r + 1]; p++) ring.push(toLatLng(shapes.x[p], shapes.y[p]));
        parts.push(ring);
      }
      if (parts.length) styles.forEach(function (style) {
        parts.forEach(function (ring) {
          L.polygon(ring, { renderer: sketch, interactive: false, fill: false, color: style[0], weight: style[1] }).addTo(group);
        });
      });
    }

    function describe(node, set, i, heading) {
      var own = look(i);
      node.appendChild(el(heading, { text: title(set, i), "class": "place" }));
      node.appendChild(el("p", { "class": "kind" }, [swatchOf(own), el("span", { text: own.label })]));
      var rows = el("dl");
      set.fields.forEach(function (field) {
        if (field.read === set.names) return;
        var text = field.read(i);
        rows.appendChild(el("div", {}, [el("dt", { text: field.label }), el("dd", { text: text === "" ? "–" : text })]));
      });
      if (rows.firstChild) node.appendChild(rows);
    }

    function open(i, zoomIn, focus) {
      var set = scene.view.set, box = set.shapes.box.subarray(4 * i, 4 * i + 4);
      chosen = { set: set, i: i };
      showTip(-1);
      outlineOf(set, i, rings, [["#ffffff", 7], [data.ink, 3.5]]);
      empty(card);
      card.appendChild(el("button", { type: "button", "class": "close", "aria-label": "Close", text: "×", on: { click: function () { close(true); } } }));
      describe(card, set, i, "h2");
      if (!(box[0] < Infinity)) card.appendChild(el("p", { "class": "hint", text: "No outline on the map for this one." }));
      card.hidden = false;
      card.scrollTop = 0;
      if (box[0] < Infinity) {
        var sheet = window.matchMedia("(max-width: 759px)").matches ? card.offsetHeight : 0;
        if (zoomIn) {
          map.fitBounds(boundsOf(box), { maxZoom: scene.view.areas ? 17.5 : 18.5, animate: false, paddingTopLeft: [20, 20], paddingBottomRight: [20, 20 + sheet] });
        } else map.panInside(toLatLng((box[0] + box[2]) / 2, (box[1] + box[3]) / 2), { paddingTopLeft: [40, 40], paddingBottomRight: [40, 40 + sheet], animate: !calm });
      }
      status.textContent = title(set, i) + ": " + look(i).label;
      if (focus) { back = focus; card.focus(); }
    }
    function close(refocus) {
      if (card.hidden) return;
      card.hidden = true;
      chosen = null;
      rings.clearLayers();
      if (refocus && back) back.focus();
      back = null;
    }

    // -- pointer
    function under(event) {
      var set = scene.view.set, k = 256 * Math.pow(2, map.getZoom()), p = map.project(event.latlng);
      set.near = set.near || gridOver(set.shapes);
      var near = set.near(p.x / k, p.y / k);
      for (var j = near.length - 1; j >= 0; j--) {
        if (scene.view.on[scene.view.codes[near[j]]] && contains(set.shapes, near[j], p.x / k, p.y / k)) return near[j];
      }
      return -1;
    }
    function showTip(i, point) {
      if (i < 0) { tip.hidden = true; hovered = -1; halo.clearLayers(); map.getContainer().classList.remove("over"); return; }
      if (i !== hovered) {
        hovered = i;
        describe(empty(tip), scene.view.set, i, "p");
        outlineOf(scene.view.set, i, halo, [["#ffffff", 5], [data.ink, 2]]);
        map.getContainer().classList.add("over");
        tip.hidden = false;
      }
      var room = map.getSize(), w = tip.offsetWidth, h = tip.offsetHeight;
      tip.style.left = (point.x + 18 + w > room.x ? Math.max(4, point.x - w - 14) : point.x + 18) + "px";
      tip.style.top = Math.max(4, Math.min(point.y + 14, room.y - h - 6)) + "px";
    }
    var hovers = !window.matchMedia("(hover: none)").matches;
    map.on("mousemove", function (e) {
      if (!hovers || (e.originalEvent.sourceCapabilities && e.originalEvent.sourceCapabilities.firesTouchEvents)) return;
      var i = under(e);
      showTip(chosen && chosen.i === i && chosen.set === scene.view.set ? -1 : i, e.containerPoint);
    });
    map.on("mouseout movestart zoomstart", function () { showTip(-1); });
    map.on("click", function (e) { var i = under(e); if (i < 0) close(false); else open(i, false, null); });
    stage.addEventListener("keydown", function (e) { if (e.key === "Escape" && !card.hidden) { close(true); e.stopPropagation(); } });

    // -- legend
    function legend() {
      var view = scene.view, box = empty(byId("legend")), counts = view.classes.map(function () { return 0; });
      for (var i = 0; i < view.set.shapes.n; i++) counts[view.codes[i]]++;
      var rows = view.classes.map(function (own, c) {
        var tick = el("input", { type: "checkbox", on: { change: function () { view.on[c] = tick.checked; showTip(-1); painter.paint(); refill(); } } });
        tick.checked = view.on[c];
        return el("label", { "class": "entry" }, [tick, swatchOf(own), el("span", { "class": "words", text: own.label }),
          el("span", { "class": "count", text: count(counts[c]) })]);
      });
      box.appendChild(el("fieldset", {}, [el("legend", { text: view.label })].concat(rows)));
      box.appendChild(el("p", { "class": "sum", text: count(view.set.shapes.n) + " " + (view.set.shapes.n === 1 ? view.set.one : view.set.many) + " in all. Untick a kind to hide it." }));
    }

    // -- which view
    function choose(index) {
      close(false);
      showTip(-1);
      scene.view = scene.views[index];
      painter.paint();
      legend();
      refill();
    }
    if (scene.views.length > 1) {
      var views = byId("views");
      views.hidden = false;
      scene.views.forEach(function (view, index) {
        var radio = el("input", { type: "radio", name: "view", on: { change: function () { choose(index); } } });
        radio.checked = index === 0;
        views.appendChild(el("label", { "class": "entry" }, [radio, el("span", { "class": "words", text: view.label })]));
      });
    }

    // -- search: a text field with a list of hits (the combobox pattern of the ARIA Authoring Practices)
    var search = byId("search"), hits = byId("hits"), known = null, found = [], active = -1;
    function lookUp() {
      var wanted = words(search.value), set = scene.sets[0];
      known = known || Array.from({ length: set.shapes.n }, function (_, i) { return words(set.names(i)); });
      found = [];
      if (wanted.length) known.forEach(function (parts, i) {
        if (wanted.every(function (w) { return parts.some(function (part) { return part.indexOf(w) === 0; }); })) {
          found.push({ i: i, whole: wanted.filter(function (w) { return parts.indexOf(w) >= 0; }).length });
        }
      });
      found.sort(function (a, b) { return b.whole - a.whole || a.i - b.i; });
      active = -1;
      showHits();
    }
    function showHits() {
      var set = scene.sets[0];
      empty(hits);
      found.slice(0, HITS_SHOWN).forEach(function (hit, j) {
        hits.appendChild(el("li", { role: "option", id: "hit" + j, "aria-selected": String(j === active), text: title(set, hit.i),
          on: { mousedown: function (e) { e.preventDefault(); }, click: function () { take(j); } } }));
      });
      hits.hidden = !found.length;
      search.setAttribute("aria-expanded", String(!hits.hidden));
      if (active >= 0) search.setAttribute("aria-activedescendant", "hit" + active);
      else search.removeAttribute("aria-activedescendant");
      var told = byId("told");
      if (!search.value.trim()) told.textContent = "";
      else if (!found.length) told.textContent = "Nothing found. Try the number and the first letters of the street.";
      else told.textContent = found.length === 1 ? "1 found." : count(found.length) + " found" + (found.length > HITS_SHOWN ? "; the first " + HITS_SHOWN + " are listed." : ".");
    }
    function take(j) {
      var hit = found[j];
      hits.hidden = true;
      search.setAttribute("aria-expanded", "false");
      search.removeAttribute("aria-activedescendant");
      search.value = title(scene.sets[0], hit.i);
      byId("told").textContent = "";
      if (scene.view.set !== scene.sets[0]) { document.querySelector("#views input").checked = true; choose(0); }
      if (!list.hidden) swap();
      if (!scene.view.on[scene.view.codes[hit.i]]) { scene.view.on[scene.view.codes[hit.i]] = true; painter.paint(); legend(); }
      open(hit.i, true, search);
      stage.scrollIntoView({ block: "nearest" });
    }
    if (search) {
      search.addEventListener("input", lookUp);
      search.addEventListener("focus", function () { if (search.value) search.select(); });
      search.addEventListener("blur", function () { hits.hidden = true; search.setAttribute("aria-expanded", "false"); });
      search.addEventListener("keydown", function (e) {
        var shown = Math.min(found.length, HITS_SHOWN);
        if (e.key === "ArrowDown" || e.key === "ArrowUp") {
          e.preventDefault();
          if (hits.hidden && search.value) lookUp();
          if (shown) { active = (active + (e.key === "ArrowDown" ? 1 : shown + (active < 0 ? 0 : -1))) % shown; showHits(); }
        } else if (e.key === "Enter") {
          e.preventDefault();
          if (hits.hidden) lookUp();
          if (found.length) take(Math.max(0, active));
        } else if (e.key === "Escape") { hits.hidden = true; search.setAttribute("aria-expanded", "false"); }
      });
    }

    // -- the same as a list
    var filter = byId("filter"), body = null, rowsShown = 0, matching = [], swapper = byId("swap");
    function refill() {
      if (list.hidden) return;
      var view = scene.view, set = view.set, wanted = words(filter.value);
      matching = [];
      for (var i = 0; i < set.shapes.n; i++) {
        if (!view.on[view.codes[i]]) continue;
        if (wanted.length) {
          var parts = words([title(set, i), look(i).label].concat(set.fields.map(function (field) { return field.read(i); })).join(" "));
          if (!wanted.every(function (w) { return parts.some(function (part) { return part.indexOf(w) === 0; }); })) continue;
        }
        matching.push(i);
      }
      var head = [set.nameLabel, "Kind"], shown = set.fields.filter(function (field) { return field.read !== set.names; });
      shown.forEach(function (field) { head.push(field.label); });
      body = el("tbody");
      var table = el("table", {}, [el("caption", { text: "The map as a list" }),
        el("thead", {}, [el("tr", {}, head.map(function (text) { return el("th", { scope: "col", text: text }); }))]), body]);
      empty(byId("table")).appendChild(table);
      rowsShown = 0;
      more(ROWS_AT_ONCE);
    }
    function more(howMany) {
      var set = scene.view.set, shown = set.fields.filter(function (field) { return field.read !== set.names; });
      matching.slice(rowsShown, rowsShown + howMany).forEach(function (i) {
        var go = el("button", { type: "button", "class": "go", title: "Show on the map", text: title(set, i), on: { click: function () { swap(); open(i, true, swapper); } } });
        body.appendChild(el("tr", {}, [el("th", { scope: "row" }, [go]), el("td", {}, [swatchOf(look(i)), el("span", { text: look(i).label })])].concat(
          shown.map(function (field) { return el("td", { text: field.read(i) }); }))));
      });
      rowsShown = Math.min(matching.length, rowsShown + howMany);
      byId("rows").textContent = matching.length ? "Rows 1 to " + count(rowsShown) + " of " + count(matching.length) : "No row fits.";
      byId("more").hidden = byId("all").hidden = rowsShown >= matching.length;
    }
    function swap() {
      list.hidden = !list.hidden;
      stage.classList.toggle("listing", !list.hidden);
      swapper.setAttribute("aria-pressed", String(!list.hidden));
      swapper.textContent = list.hidden ? "Show as a list" : "Back to the map";
      if (list.hidden) map.invalidateSize({ animate: false });
      else { close(false); refill(); filter.focus(); }
    }
    swapper.addEventListener("click", swap);
    filter.addEventListener("input", refill);
    byId("more").addEventListener("click", function () { more(ROWS_AT_ONCE); });
    byId("all").addEventListener("click", function () { more(matching.length); });
    byId("whole").addEventListener("click", function () { close(false); fit(true); });

    // -- paper: the map takes a fixed size and three times the resolution
    window.addEventListener("beforeprint", function () {
      scene.printing = { center: map.getCenter(), zoom: map.getZoom(), whole: map.getBounds().contains(boundsOf(whole)) };
      document.documentElement.classList.add("printing");
      map.invalidateSize({ animate: false, pan: false });
      if (scene.printing.whole) fit(false);
      painter._update();
    });
    window.addEventListener("afterprint", function () {
      var was = scene.printing;
      scene.printing = null;
      document.documentElement.classList.remove("printing");
      map.invalidateSize({ animate: false, pan: false });
      if (was) map.setView(was.center, was.zoom, { animate: false });
      painter._update();
    });
    // Hidden behind a tab, a frame has no size yet; the first real size shows the whole.
    var sized = map.getSize().x > 0;
    new ResizeObserver(function () {
      map.invalidateSize({ animate: false });
      if (!sized && map.getSize().x > 0) { sized = true; fit(false); }
    }).observe(map.getContainer());

    legend();
    document.documentElement.setAttribute("data-drawn", String(scene.drawn));
  };
})();
