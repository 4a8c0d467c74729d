// The viewer's scaler. It repeats what the library computes: the piece from its measures, amounts by surface and by
// weight, spoons, and times read from a table. Nothing is asked of anybody; all data stands in this page.
(function () {
  "use strict";
  var data = JSON.parse(document.getElementById("scaler-data").textContent);
  var cut = data.cut, PI = Math.PI, NBSP = "\u00a0";

  // shapes

  function perimeter(a, b) {
    var mean = Math.max(a, b), product = Math.min(a, b), big = mean, loss = 0, weight = 0.5, round, half;
    for (round = 0; round < 60; round++) {
      loss += weight * (mean * mean - product * product);
      if (mean - product <= 1e-15 * mean) { break; }
      half = (mean + product) / 2;
      product = Math.sqrt(mean * product);
      mean = half;
      weight *= 2;
    }
    return 2 * PI * (big * big - loss) / mean;
  }
  function carlsonRf(x, y, z) {
    for (;;) {
      var mean = (x + y + z) / 3;
      if (Math.max(Math.abs(mean - x), Math.abs(mean - y), Math.abs(mean - z)) < 1e-4 * mean) {
        var one = 1 - x / mean, two = 1 - y / mean, three = -one - two;
        var second = one * two - three * three, third = one * two * three;
        return (1 - second / 10 + third / 14 + second * second / 24 - 3 * second * third / 44) / Math.sqrt(mean);
      }
      var step = Math.sqrt(x * y) + Math.sqrt(y * z) + Math.sqrt(z * x);
      x = (x + step) / 4; y = (y + step) / 4; z = (z + step) / 4;
    }
  }
  function carlsonRd(x, y, z) {
    var total = 0, share = 1;
    for (;;) {
      var mean = (x + y + 3 * z) / 5;
      if (Math.max(Math.abs(mean - x), Math.abs(mean - y), Math.abs(mean - z)) < 1e-4 * mean) {
        var one = 1 - x / mean, two = 1 - y / mean, three = -(one + two) / 3, both = one * two, square = three * three;
        var second = both - 6 * square, third = (3 * both - 8 * square) * three;
        var fourth = 3 * (both - square) * square, fifth = both * square * three;
        var series = 1 - 3 * second / 14 + third / 6 + 9 * second * second / 88 - 3 * fourth / 22 -
          9 * second * third / 52 + 3 * fifth / 26;
        return 3 * total + share * series / (mean * Math.sqrt(mean));
      }
      var root = Math.sqrt(z), step = Math.sqrt(x * y) + root * (Math.sqrt(x) + Math.sqrt(y));
      total += share / (root * (z + step));
      share /= 4;
      x = (x + step) / 4; y = (y + step) / 4; z = (z + step) / 4;
    }
  }
  function ellipsoidArea(a, b, c) {
    var s = [1 / (a * a), 1 / (b * b), 1 / (c * c)].sort(function (one, two) { return one - two; });
    var rg = s[0] === s[2] ? Math.sqrt(s[0]) : (s[1] * carlsonRf(s[0], s[2], s[1]) +
      (s[2] - s[1]) * (s[1] - s[0]) * carlsonRd(s[0], s[2], s[1]) / 3 + Math.sqrt(s[0] * s[2] / s[1])) / 2;
    return 4 * PI * a * b * c * rg;
  }
  function frustumSide(a1, b1, a2, b2, length) {
    var turns = 256, steps = 24, total = 0, i, j, inner, place, a, b, east, north;
    for (i = 0; i <= turns; i++) {
      east = Math.cos(PI / 2 * i / turns); north = Math.sin(PI / 2 * i / turns);
      inner = 0;
      for (j = 0; j <= steps; j++) {
        place = j / steps;
        a = a1 + place * (a2 - a1); b = b1 + place * (b2 - b1);
        inner += (j === 0 || j === steps ? 1 : j % 2 ? 4 : 2) * Math.hypot(b * east * length, a * north * length,
          a * (b2 - b1) * north * north + b * (a2 - a1) * east * east);
      }
      total += (i === 0 || i === turns ? 0.5 : 1) * inner / (3 * steps);
    }
    return 2 * PI * total / turns;
  }
  // A body of these outer sizes in cm: its volume, girth, and the area of each of its faces when asked.
  function body(length, width, height, grams) {
    var taper = cut.taper, w = width / 2, h = height / 2, radius, face, inner, half, end;
    if (cut.shape === "rounded box") {
      radius = Math.min(cut.radius * height, Math.min(length, width, height) / 2);
      inner = [length - 2 * radius, width - 2 * radius, height - 2 * radius];
      face = function (one, two) { return one * two + PI / 2 * radius * (one + two) + 2 / 3 * PI * radius * radius; };
      return {
        volume: inner[0] * inner[1] * inner[2] + 2 * radius * (inner[0] * inner[1] + inner[1] * inner[2] +
          inner[2] * inner[0]) + PI * radius * radius * (inner[0] + inner[1] + inner[2]) + 4 / 3 * PI * Math.pow(radius, 3),
        girth: 2 * (width + height) - (8 - 2 * PI) * radius,
        faces: function () {
          var flat = face(inner[0], inner[1]), side = face(inner[0], inner[2]), ends = face(inner[1], inner[2]);
          return {"top": flat, "bottom": flat, "front": side, "back": side, "first end": ends, "second end": ends};
        }
      };
    }
    if (cut.shape === "half-ellipse prism") {
      half = perimeter(w, height) / 2; end = PI * width * height / 4;
      return {volume: end * length, girth: half + width, faces: function () {
        return {"round side": half * length, "flat side": width * length, "first end": end, "second end": end};
      }};
    }
    if (cut.shape === "half ellipsoid") {
      return {volume: 2 / 3 * PI * length / 2 * w * height, girth: perimeter(w, height) / 2 + 2 * w, faces: function () {
        return {"round side": ellipsoidArea(length / 2, w, height) / 2, "flat side": PI * length / 2 * w};
      }};
    }
    if (cut.shape === "ellipsoid" || cut.shape === "bird") {
      return {volume: 4 / 3 * PI * length / 2 * w * h, girth: perimeter(w, h), faces: function () {
        if (cut.shape === "bird") { return {"skin": cut.skin * Math.pow(grams, 2 / 3)}; }
        half = ellipsoidArea(length / 2, w, h) / 2;
        return {"upper side": half, "lower side": half};
      }};
    }
    if (Math.abs(taper - 1) < 1e-9) {
      half = perimeter(w, h); end = PI * w * h;
      return {volume: end * length, girth: half, faces: function () {
        return {"upper side": half * length / 2, "lower side": half * length / 2, "first end": end, "second end": end};
      }};
    }
    return {
      volume: PI * length / 6 * (2 * w * h + 2 * taper * w * h + 2 * taper * taper * w * h),
      girth: perimeter(w * (1 + taper) / 2, h * (1 + taper) / 2),
      faces: function () {
        half = frustumSide(w, h, taper * w, taper * h, length) / 2;
        return {"upper side": half, "lower side": half, "first end": PI * w * h, "second end": PI * taper * taper * w * h};
      }
    };
  }

  // A piece from what is known of it: weighted least squares on the logarithms of its sizes.

  function piece(known, bones) {
    var state = cut.states[bones], rows = [], pitch = cut.ribs && known.ribs ? 5 : -1, size = pitch < 0 ? 5 : 6;
    function straight(value, sigma, weights) {
      rows.push({value: value, sigma: sigma, at: function (p) {
        var sum = 0;
        Object.keys(weights).forEach(function (k) { sum += weights[k] * p[k]; });
        return sum;
      }});
    }
    function shape(p) { return body(Math.exp(p[1]), Math.exp(p[2]), Math.exp(p[3]), 0); }
    state.sizes.forEach(function (one, k) {
      var weights = {0: -one[2]};
      weights[k + 1] = 1;
      straight(one[0], one[1], weights);
    });
    straight(state.density[0], state.density[1], {4: 1});
    if (pitch > 0) { straight(cut.ribs.pitch[0], cut.ribs.pitch[1], {5: 1}); }
    if (known.length) { straight(Math.log(known.length), data.sigma.length, {1: 1}); }
    if (known.mass) {
      rows.push({value: Math.log(known.mass), sigma: data.sigma.weight,
        at: function (p) { return p[4] + Math.log(shape(p).volume); }});
    }
    if (known.girth) {
      rows.push({value: Math.log(known.girth), sigma: data.sigma.girth,
        at: function (p) { return Math.log(shape(p).girth); }});
    }
    if (pitch > 0) { straight(Math.log(known.ribs), 0.2 / known.ribs, {1: 1, 5: -1}); }
    var point = [0, state.sizes[0][0], state.sizes[1][0], state.sizes[2][0], state.density[0]];
    if (pitch > 0) { point.push(cut.ribs.pitch[0]); }
    point = solve(rows, point, size);
    var sizes = [1, 2, 3].map(function (k) { return Math.exp(point[k]); });
    var outer = shape(point), grams = Math.exp(point[4]) * outer.volume, parts, faces = {};
    parts = body(sizes[0], sizes[1], sizes[2], grams).faces();
    Object.keys(cut.parts).forEach(function (name) {
      faces[name] = cut.parts[name].reduce(function (sum, part) { return sum + parts[part]; }, 0);
    });
    return {mass: known.mass || grams, volume: cut.shape === "bird" ? grams / 1.06 : outer.volume, sizes: sizes,
      faces: faces, ribs: known.ribs || null, bones: bones};
  }
  function solve(rows, point, size) {
    function cost(p) {
      return rows.reduce(function (sum, row) { return sum + Math.pow((row.value - row.at(p)) / row.sigma, 2); }, 0);
    }
    var now = cost(point), round, k, j;
    for (round = 0; round < 40; round++) {
      var matrix = [], right = [];
      for (k = 0; k < size; k++) { matrix.push(new Array(size).fill(0)); right.push(0); }
      rows.forEach(function (row) {
        var slope = point.map(function (value, at) {
          var here = point.slice(), above;
          here[at] = value + 1e-5; above = row.at(here);
          here[at] = value - 1e-5;
          return (above - row.at(here)) / 2e-5;
        }), weight = Math.pow(row.sigma, -2), left = row.value - row.at(point);
        for (k = 0; k < size; k++) {
          right[k] += weight * slope[k] * left;
          for (j = 0; j < size; j++) { matrix[k][j] += weight * slope[k] * slope[j]; }
        }
      });
      var step = eliminate(matrix, right), longest = Math.max.apply(null, step.map(Math.abs));
      var share = longest > 1 ? 1 / longest : 1, there, next;
      for (;;) {
        there = point.map(function (value, at) { return value + share * step[at]; });
        next = cost(there);
        if (next <= now + 1e-9 || share * longest < 1e-9) { break; }
        share /= 2;
      }
      point = there; now = next;
      if (share * longest < 1e-10) { break; }
    }
    return point;
  }
  function eliminate(matrix, right) {
    var size = right.length, k, j, row, best, swap, factor;
    for (k = 0; k < size; k++) {
      best = k;
      for (row = k + 1; row < size; row++) { if (Math.abs(matrix[row][k]) > Math.abs(matrix[best][k])) { best = row; } }
      swap = matrix[k]; matrix[k] = matrix[best]; matrix[best] = swap;
      swap = right[k]; right[k] = right[best]; right[best] = swap;
      for (row = 0; row < size; row++) {
        if (row === k) { continue; }
        factor = matrix[row][k] / matrix[k][k];
        for (j = k; j < size; j++) { matrix[row][j] -= factor * matrix[k][j]; }
        right[row] -= factor * right[k];
      }
    }
    return right.map(function (value, at) { return value / matrix[at][at]; });
  }

  // amounts

  function even(value) {
    var low = Math.floor(value), rest = value - low;
    return Math.abs(rest - 0.5) < 1e-9 ? low + (low % 2) : Math.round(value);
  }
  function plain(value) { return String(Math.round(value * 1e6) / 1e6); }
  function balance(value, largest) {
    var size = largest === undefined ? value : largest, step = size >= 20 ? 1 : size >= 5 ? 0.5 : 0.1;
    return even(value / step) * step;
  }
  var SIGNS = {"1/2": "½", "1/3": "⅓", "2/3": "⅔", "1/4": "¼", "3/4": "¾", "1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞",
    "1/6": "⅙", "5/6": "⅚"};
  function fraction(value) {
    var whole = Math.floor(value + 1e-9), rest = value - whole, key = Object.keys(SIGNS).find(function (one) {
      var parts = one.split("/");
      return Math.abs(parts[0] / parts[1] - rest) < 1e-6;
    });
    return key ? (whole || "") + SIGNS[key] : plain(value);
  }
  function grams(value, about) { return (about ? "about " : "") + plain(balance(value)) + NBSP + "g"; }
  function spread(ends, show, unit) {
    var low = show(ends[0], ends[1]), high = show(ends[1], ends[1]);
    return (low === high ? low : low + "–" + high) + NBSP + unit;
  }
  function ounces(value) {
    var parts = value < data.measures.pound ? 8 : value < 5 * data.measures.pound ? 2 : 1;
    return Math.max(1, even(value / data.measures.pound * 16 * parts)) / parts;
  }
  function poundsText(ends) {
    if (ends[0] < data.measures.pound / 64) { return ""; }
    if (ends[0] !== ends[1]) { return fraction(ounces(ends[0])) + "–" + fraction(ounces(ends[1])) + NBSP + "oz"; }
    var total = ounces(ends[0]), pounds = Math.floor(total / 16), rest = total - 16 * pounds, said = [];
    if (pounds) { said.push(pounds + NBSP + "lb"); }
    if (rest || !pounds) { said.push(fraction(rest) + NBSP + "oz"); }
    return said.join(" ");
  }
  // The fewest scoops that come close enough: then the fewest kinds, the smallest error, the larger measures.
  function scoops(ml, tolerance) {
    var sizes = data.measures.scoops.map(function (one) { return one.ml; }), last = sizes.length - 1, many, found;
    var slack = ml * tolerance + 1e-9;
    function go(at, left, count, kinds, used) {
      if (count === 0) {
        if (Math.abs(left) <= slack) {
          found.push([kinds, Math.round(Math.abs(left) * 1e7), used.concat(new Array(sizes.length - used.length).fill(0))]);
        }
        return;
      }
      if (at > last || kinds === 3 || left > count * sizes[at] + slack || left < count * sizes[last] - slack) { return; }
      for (var n = Math.min(count, Math.floor((left + slack) / sizes[at])); n >= 0; n--) {
        go(at + 1, left - n * sizes[at], count - n, kinds + (n > 0 ? 1 : 0), used.concat(n));
      }
    }
    for (many = 1; many <= 8; many++) {
      found = [];
      go(0, ml, many, 0, []);
      if (found.length) {
        found.sort(function (one, two) {
          if (one[0] !== two[0]) { return one[0] - two[0]; }
          if (one[1] !== two[1]) { return one[1] - two[1]; }
          for (var k = 0; k < sizes.length; k++) { if (one[2][k] !== two[2][k]) { return two[2][k] - one[2][k]; } }
          return 0;
        });
        return found[0][2];
      }
    }
    return null;
  }
  function filled(counts) {
    var units = {}, order = [];
    counts.forEach(function (n, k) {
      var one = data.measures.scoops[k];
      if (!units[one.unit]) { units[one.unit] = []; order.push(one.unit); }
      for (var i = 0; i < n; i++) { units[one.unit].push(one.part); }
    });
    return order.filter(function (name) { return units[name].length; }).map(function (name) {
      var total = units[name].reduce(function (sum, part) { return sum + part; }, 0);
      return number(units[name], total) + NBSP + name + (total > 1.000001 && /cup$/.test(name) ? "s" : "");
    }).join(" + ");
  }
  function denominator(value) {
    for (var d = 1; d <= 96; d++) { if (Math.abs(value * d - Math.round(value * d)) < 1e-6) { return d; } }
    return 1000;
  }
  function number(parts, total) {
    var kinds = parts.filter(function (part, k) { return part !== 1 && parts.indexOf(part) === k; }), sum = 0;
    function count(part) { return parts.filter(function (one) { return one === part; }).length; }
    function read(part) { return denominator(part * count(part)) === denominator(part); }
    if (kinds.every(read) && ([1, 2, 3, 4, 8].indexOf(denominator(total)) >= 0 || denominator(parts[0]) > 8)) {
      return fraction(total);
    }
    parts.forEach(function (part) { if (part === 1) { sum += 1; } });
    var shown = sum ? [String(sum)] : [];
    kinds.forEach(function (part) {
      if (read(part)) { shown.push(fraction(part * count(part))); } else {
        for (var k = 0; k < count(part); k++) { shown.push(fraction(part)); }
      }
    });
    return shown.join(" + ");
  }
  function spoon(ml, line) {
    var tolerance = line.salt ? data.measures.salt_tolerance : data.measures.tolerance, counts, smallest, many, quarters;
    if (ml <= 0) { return ""; }
    if (ml > data.measures.most_ml * 1.0000001) { return null; }
    counts = scoops(ml, tolerance);
    if (counts) { return filled(counts); }
    if (line.salt) { return ""; }
    smallest = data.measures.scoops[data.measures.scoops.length - 1].ml;
    many = even(ml / smallest);
    counts = many ? scoops(many * smallest, 0) : null;
    if (counts) { return filled(counts); }
    return ml >= data.measures.pinch[0] && ml <= data.measures.pinch[1] ? "1" + NBSP + "pinch" : "";
  }
  function spoons(ends, line) {
    if (line.cure || !ends || ends[0] <= 0) { return ""; }
    var told = ends.map(function (ml) { return ends[1] > data.measures.most_ml ? large(ml, line) : spoon(ml, line); });
    if (told.some(function (one) { return !one; })) { return ""; }
    return told[0] === told[1] ? told[0] : told[0] + " to " + told[1];
  }
  function large(ml, line) {
    if (!line.pours || !data.measures.quart) { return ""; }
    var quarters = even(ml / data.measures.quart * 4);
    var error = quarters * data.measures.quart / 4 / ml - 1;
    if (Math.abs(error) > (line.salt ? data.measures.salt_tolerance : data.measures.tolerance)) { return ""; }
    return fraction(quarters / 4) + NBSP + (quarters > 4 ? "quarts" : "quart");
  }
  function factor(batch, one, follows) {
    var from = batch.from, faces = one.coated || batch.faces[one.bones] || [];
    if (follows === "surface") {
      return faces.reduce(function (sum, name) { return sum + one.faces[name]; }, 0) / from.coated;
    }
    if (follows === "volume") { return one.volume / from.volume; }
    if (follows === "count" && from.ribs && one.ribs) { return one.ribs / from.ribs; }
    return follows === "weight" || follows === "count" ? one.mass / from.mass : 1;
  }
  // The same amount in every measure, the handiest first, as the card prints it; grams for what adds up.
  function amounts(batch, line, one) {
    var by = factor(batch, one, line.follows), ends, mid, weight, text = "", us = "", metric = "", ml, share;
    if (line.kind === "free") { return {said: [line.text], grams: 0}; }
    if (line.kind === "whole") {
      weight = line.surface * factor(batch, one, "surface") + line.weight * factor(batch, one, "weight");
      return {said: [grams(weight)], grams: weight};
    }
    if (line.kind === "percent") {
      share = line.boneless ? one.mass * (1 - cut.bone[one.bones]) : one.mass;
      mid = (line.ends[0] + line.ends[1]) / 200 * share;
      ml = line.per_ml ? [mid / line.per_ml, mid / line.per_ml] : null;
      us = spoons(ml, line) || poundsText([mid, mid]);
      return {said: unique([grams(mid), us]), grams: mid};
    }
    ends = line.ends.map(function (end) { return end * by; });
    weight = line.grams === null ? null : line.grams * by;
    if (line.kind === "grams") { return {said: weight ? [grams(weight, line.about)] : ["× " + plain(balance(by))], grams: weight || 0}; }
    if (line.kind === "mass") {
      var base = ends.map(function (end) { return end * (line.unit === "kg" ? 1000 : 1); });
      text = line.unit === "kg" ? spread(ends, function (value) { return plain(even(value * 100) / 100); }, "kg")
        : spread(base, function (value) { return plain(balance(value)); }, "g");
      ml = line.per_ml ? base.map(function (end) { return end / line.per_ml; }) : null;
      us = spoons(ml, line) || poundsText(base);
      return {said: ordered(text, us, text), grams: weight || (base[0] + base[1]) / 2};
    }
    metric = weight ? grams(weight, line.about) : "";
    if (line.kind === "count") {
      mid = ends[0] >= 10 || line.whole ? even(ends[0]) : even(ends[0] * 2) / 2;
      mid = mid || (line.whole ? 1 : 0.5);
      text = (fraction(mid) + NBSP + line.words[mid <= 1 ? 0 : 1]).trim();
      return {said: ordered(text, text, metric || text), grams: weight || 0};
    }
    ml = ends.map(function (end) { return end * line.ml / ((line.ends[0] + line.ends[1]) / 2); });
    us = spoons(ml, line);
    if (line.unit === "ml" || line.unit === "l") {
      text = line.unit === "ml" ? spread(ends, function (value) { return plain(balance(value)); }, "ml")
        : spread(ends, function (value) { return plain(even(value * 100) / 100); }, "l");
    } else { text = us; }
    metric = metric || spread(ml, function (value, most) { return plain(balance(value, most)); }, "ml");
    return {said: ordered(text || metric, us || text, metric), grams: weight || 0};
  }
  function unique(list) { return list.filter(function (one, k) { return one && list.indexOf(one) === k; }); }
  function ordered(text, us, metric) {
    var first = data.units === "us" ? us : data.units === "metric" ? metric : "";
    return unique([first, text, us, metric]);
  }

  // times

  function between(knots, value, held) {
    if (knots.length === 1) { return [0, 0]; }
    var place = 0, k, share;
    for (k = 0; k < knots.length - 1; k++) { if (knots[k] <= value) { place = k; } }
    share = (value - knots[place]) / (knots[place + 1] - knots[place]);
    return [place, held ? Math.min(Math.max(share, 0), 1) : share];
  }
  function place(table, sizes) {
    var parts = [0, 1, 2].map(function (k) { return sizes[k] / table.like[k]; }), scale;
    if (table.growth === "wider") { return [Math.sqrt(parts[0] * parts[1]) / parts[2], parts[2]]; }
    function sum(list) {
      return (table.growth === "bigger" ? [0, 1, 2] : [1, 2]).reduce(function (all, k) {
        return all + Math.pow(list[k], -2);
      }, 0);
    }
    scale = Math.sqrt(sum(table.like) / sum(sizes));
    return [table.growth === "bigger" ? 1 : parts[0] / scale, scale];
  }
  function at(table, grid, where, pull, rates) {
    var length = between(table.lengths.map(function (one) { return -1 / (one * one); }), -1 / (where[0] * where[0]), true);
    var scale = between(table.scales.map(Math.log), Math.log(where[1])), up = between(table.pulls, pull);
    var total = 0, never = false;
    [[0, 1 - length[1]], [1, length[1]]].forEach(function (step) {
      if (step[1] === 0) { return; }
      var part = 0;
      [[0, 1 - scale[1]], [1, scale[1]]].forEach(function (stride) {
        if (stride[1] === 0) { return; }
        var line = grid[length[0] + step[0]][scale[0] + stride[0]], low = line[up[0]];
        var high = up[1] ? line[up[0] + 1] : low, value;
        if (low === null || high === null) { never = true; return; }
        value = low + up[1] * (high - low);
        part += stride[1] * (rates ? Math.log(value) : value);
      });
      total += step[1] * (rates ? Math.exp(-part) : part);
    });
    return never ? null : rates ? 1 / total : total;
  }
  function tableFor(bones) { return data.times.tables[bones === "off" ? "off" : ""] || data.times.tables[""] || data.times.tables.off; }
  function timing(one, cooker, pull) {
    var table = tableFor(one.bones), where = place(table, one.sizes), up = between(table.pulls, pull);
    var minutes = at(table, table.minutes[cooker], where, pull, true), board = at(table, table.board_k[cooker], where, pull);
    if (minutes === null || board === null) { return null; }
    var below = table.doubt.minutes[up[0]], above = table.doubt.minutes[Math.min(up[0] + 1, table.pulls.length - 1)];
    var share = Math.min(Math.max(up[1], 0), 1);
    return {
      pull: pull,
      minutes: below.map(function (low, k) { return minutes * (low + share * (above[k] - low)); }),
      board: table.doubt.rise_k.map(function (shift) { return pull + board + shift; })
    };
  }
  function pullFor(one, cooker, served) {
    var table = tableFor(one.bones), where = place(table, one.sizes), known = [], found, k;
    table.pulls.forEach(function (pull) {
      var rise = at(table, table.board_k[cooker], where, pull);
      if (rise !== null) { known.push([pull, pull + rise + table.doubt.rise_k[1]]); }
    });
    if (!known.length) { return table.pulls[table.pulls.length - 1]; }
    found = served < known[0][1] ? known[0][0] : known[known.length - 1][0];
    for (k = 0; k < known.length - 1; k++) {
      if (known[k][1] <= served && served <= known[k + 1][1] && known[k + 1][1] > known[k][1]) {
        found = known[k][0] + (known[k + 1][0] - known[k][0]) * (served - known[k][1]) / (known[k + 1][1] - known[k][1]);
        break;
      }
    }
    return even(2 * found) / 2;
  }
  function five(minutes, towards) {
    var steps = minutes / 5;
    return 5 * (towards < 0 ? Math.floor(steps) : towards > 0 ? Math.ceil(steps) : Math.floor(steps + 0.5));
  }
  function hours(minutes, towards) {
    var whole = five(minutes, towards), hour = Math.floor(whole / 60), rest = whole % 60;
    return hour ? hour + NBSP + "h" + (rest ? NBSP + rest + NBSP + "min" : "") : rest + NBSP + "min";
  }
  function celsius(value) { return even(value) + NBSP + "°C (" + even(value * 1.8 + 32) + NBSP + "°F)"; }
  function clock(minutes) {
    var whole = ((Math.floor(minutes / 5) * 5) % 1440 + 1440) % 1440, hour = Math.floor(whole / 60), rest = whole % 60;
    return hour + ":" + (rest < 10 ? "0" : "") + rest;
  }
  // Minutes before the meal at which it goes on, so that nine of ten cooks are rested and carved in time.
  function beforeEating(time) { return Math.min(time.minutes[2], 1e6) + data.times.rest + data.times.carve; }

  window.scaler = {data: data, piece: piece, amounts: amounts, timing: timing, pullFor: pullFor, beforeEating: beforeEating};

  // the form

  var form = document.getElementById("scaler"), answer = document.getElementById("scaler-answer");
  var lists = document.getElementById("scaler-lists"), shop = document.getElementById("scaler-shop");
  function field(name) { return form.elements[name]; }
  function value(name) { return field(name) ? field(name).value : ""; }
  function typed(name) {
    var found = parseFloat(String(value(name)).replace(",", "."));
    return found > 0 ? found : null;
  }
  function known() {
    var by = value("by"), inches = value("length-unit") === "in" ? 2.54 : 1;
    var mass = typed("weight") && typed("weight") * (value("weight-unit") === "lb" ? data.measures.pound : 1000);
    if (by === "ribs") { return {by: by, ribs: Math.round(typed("ribs") || 0) || null, mass: mass}; }
    if (by === "tape") {
      return {by: by, length: typed("length") && typed("length") * inches, girth: typed("girth") && typed("girth") * inches,
        mass: mass};
    }
    return {by: by, mass: mass};
  }
  function fault(told) {
    if (told.by === "ribs" && !(told.ribs >= 1 && told.ribs <= cut.ribs.most)) {
      return "How many ribs? 1 to " + cut.ribs.most + " can be.";
    }
    if ((told.by === "weight" || told.mass) && !(told.mass >= 100 && told.mass <= 60000)) {
      return "What does it weigh? 100 g to 60 kg can be read.";
    }
    if (told.by !== "tape") { return ""; }
    return told.length >= 1 && told.length <= 150 && told.girth >= 1 && told.girth <= 150 ? "" :
      "Length along the roast and the tape once round its middle, please: 1 to 150 cm.";
  }
  function element(tag, words, parent, kind) {
    var made = document.createElement(tag);
    made.textContent = words;
    if (kind) { made.className = kind; }
    parent.appendChild(made);
    return made;
  }
  function show() {
    var told = known(), wrong = fault(told), bones = value("bones") || data.own.bones || "", one, spec, sentences = [];
    ["ribs", "tape"].forEach(function (by) {
      var part = document.getElementById("by-" + by);
      if (part) { part.hidden = value("by") !== by; }
    });
    document.getElementById("s-known").hidden = value("by") === "weight";
    answer.textContent = "";
    if (wrong) {
      lists.textContent = shop.textContent = "";
      element("p", wrong, answer, "headline");
      return;
    }
    one = piece(told, bones);
    spec = value("faces");
    if (spec) { one.coated = cut.faces[spec][bones]; }
    element("p", headline(one, sentences), answer, "headline");
    if (one.mass < 0.8 * cut.usual[0] || one.mass > 1.2 * cut.usual[1]) {
      sentences.push("An unusual size for " + cut.name + ": look twice at the measure.");
    }
    sentences.forEach(function (words) { element("p", words, answer, "small"); });
    fill(one);
  }
  function masses(mass) {
    var kilos = Math.round(mass / 10) / 100;
    return plain(mass >= 100 ? kilos : mass / 1000) + NBSP + "kg (" + plain(Math.round(mass / data.measures.pound * 10) / 10) +
      NBSP + "lb)";
  }
  function headline(one, sentences) {
    var told = (one.ribs ? one.ribs + NBSP + "ribs, " : "") + masses(one.mass);
    if (!data.times) { return told; }
    var cooker = value("cooker") || data.times.cooker, want = value("want"), band, pull = data.times.pull, time, eat, on;
    data.times.doneness.forEach(function (each) { if (each.name === want) { band = each; } });
    if (band) { pull = pullFor(one, cooker, band.served); }
    time = timing(one, cooker, pull);
    if (!time) { return told + ": at this pit it never gets to " + celsius(pull) + "."; }
    if (time.board[0] < data.times.line) {
      sentences.push("Not surely past the household line for " + data.times.species + ", " + data.times.line_words +
        ": see “Keep it safe”.");
    }
    sentences.push("Pit " + data.times.pit + ", from the refrigerator; after the rest about " + celsius(time.board[1]) + ".");
    eat = /^(\d{1,2}):(\d{2})/.exec(value("eat"));
    if (!eat) {
      return told + ": check from " + hours(time.minutes[0], -1) + ", pull at " + celsius(pull) + " after " +
        hours(time.minutes[0], -1) + (time.minutes[2] > 2 * time.minutes[1] ? " or much longer" :
          " to " + hours(time.minutes[2], 1)) + ", rest " + plain(data.times.rest) + NBSP + "min.";
    }
    eat = 60 * Number(eat[1]) + Number(eat[2]);
    on = Math.floor((eat - beforeEating(time)) / 5) * 5;
    return told + ": put on " + clock(on) + (on < 0 ? " (" + Math.ceil(-on / 1440) + " day before)" : "") + ", check from " +
      clock(on + time.minutes[0]) + ", pull at " + celsius(pull) + ", slice " + clock(eat - data.times.carve) + ", eat " +
      clock(eat) + ".";
  }
  function fill(one) {
    var lines = [];
    lists.textContent = shop.textContent = "";
    lines.push(masses(one.mass) + " " + cut.name + (one.ribs ? ", " + one.ribs + " ribs" : ""));
    data.batches.forEach(function (batch) {
      var total = 0, part = element("div", "", lists, "batch"), list;
      element("h3", batch.title, part).dir = "auto";
      list = element("ul", "", part, "rows");
      batch.lines.forEach(function (line) {
        var found = amounts(batch, line, one), said = choose(found.said), row = element("li", "", list), figure;
        total += found.grams;
        figure = element("span", "", row, "figure");
        element("b", said[0], figure);
        said.slice(1).forEach(function (other) {
          figure.appendChild(document.createTextNode(" "));
          element("span", other, figure, "other");
        });
        element("span", line.item + (line.prep ? ", " + line.prep : ""), row, "words").dir = "auto";
        lines.push(said[0] + " " + line.item);
      });
      if (total) { element("p", "about " + grams(total) + " in all", part, "small"); }
    });
    data.others.forEach(function (other) { lines.push(((other.amounts[0] || "") + " " + other.item).trim()); });
    lines.forEach(function (line) { element("li", line, shop).dir = "auto"; });
  }
  function choose(said) {
    var spoonful = /tsp|tbsp|cup|quart|pinch|oz|lb/, wanted = value("measures"), first;
    if (wanted !== "us" && wanted !== "metric") { return said; }
    first = said.filter(function (one) { return spoonful.test(one) === (wanted === "us"); });
    return first.length ? [first[0]] : said.slice(0, 1);
  }
  form.addEventListener("input", function (event) {
    if (["ribs", "length", "girth"].indexOf(event.target.name) >= 0) { field("weight").value = ""; }
    show();
  });
  form.addEventListener("change", show);
  form.addEventListener("submit", function (event) { event.preventDefault(); show(); });
  document.getElementById("scaler-part").hidden = false;
  show();
}());
