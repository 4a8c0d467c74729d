// Bodies that stand for pieces of meat: volume, girth and the area of each face from the outer sizes in cm.
(function (scaler) {
  "use strict";
  const PI = Math.PI;
  scaler.data = JSON.parse(document.getElementById("scaler-data").textContent);

  function perimeter(a, b) {
    let mean = Math.max(a, b), product = Math.min(a, b), loss = 0, weight = 0.5;
    const big = mean;
    for (let round = 0; round < 60; round++) {
      loss += weight * (mean * mean - product * product);
      if (mean - product <= 1e-15 * mean) { break; }
      const half = (mean + product) / 2;
      product = Math.sqrt(mean * product);
      mean = half;
      weight *= 2;
    }
    return 2 * PI * (big * big - loss) / mean;
  }

  // Carlson's symmetric integrals, of which an ellipsoid's area is made.
  function carlsonRf(x, y, z) {
    for (;;) {
      const mean = (x + y + z) / 3;
      if (Math.max(Math.abs(mean - x), Math.abs(mean - y), Math.abs(mean - z)) < 1e-4 * mean) {
        const one = 1 - x / mean, two = 1 - y / mean, three = -one - two;
        const second = one * two - three * three, third = one * two * three;
        return (1 - second / 10 + third / 14 + second * second / 24 - 3 * second * third / 44) / Math.sqrt(mean);
      }
      const step = Math.sqrt(x * y) + Math.sqrt(y * z) + Math.sqrt(z * x);
      x = (x + step) / 4; y = (y + step) / 4; z = (z + step) / 4;
    }
  }
  function carlsonRd(x, y, z) {
    let total = 0, share = 1;
    for (;;) {
      const mean = (x + y + 3 * z) / 5;
      if (Math.max(Math.abs(mean - x), Math.abs(mean - y), Math.abs(mean - z)) < 1e-4 * mean) {
        const one = 1 - x / mean, two = 1 - y / mean, three = -(one + two) / 3, both = one * two;
        const square = three * three, second = both - 6 * square, third = (3 * both - 8 * square) * three;
        const fourth = 3 * (both - square) * square, fifth = both * square * three;
        const series = 1 - 3 * second / 14 + third / 6 + 9 * second * second / 88 - 3 * fourth / 22 -
          9 * second * third / 52 + 3 * fifth / 26;
        return 3 * total + share * series / (mean * Math.sqrt(mean));
      }
      const root = Math.sqrt(z), step = Math.sqrt(x * y) + root * (Math.sqrt(x) + Math.sqrt(y));
      total += share / (root * (z + step));
      share /= 4;
      x = (x + step) / 4; y = (y + step) / 4; z = (z + step) / 4;
    }
  }
  function ellipsoidArea(a, b, c) {
    const s = [1 / (a * a), 1 / (b * b), 1 / (c * c)].sort((one, two) => one - two);
    const rg = s[0] === s[2] ? Math.sqrt(s[0]) : (s[1] * carlsonRf(s[0], s[2], s[1]) +
      (s[2] - s[1]) * (s[1] - s[0]) * carlsonRd(s[0], s[2], s[1]) / 3 + Math.sqrt(s[0] * s[2] / s[1])) / 2;
    return 4 * PI * a * b * c * rg;
  }

  function frustumSide(a1, b1, a2, b2, length) {
    const turns = 256, steps = 24;
    let total = 0;
    for (let i = 0; i <= turns; i++) {
      const east = Math.cos(PI / 2 * i / turns), north = Math.sin(PI / 2 * i / turns);
      let inner = 0;
      for (let j = 0; j <= steps; j++) {
        const a = a1 + j / steps * (a2 - a1), b = b1 + j / steps * (b2 - b1);
        inner += (j === 0 || j === steps ? 1 : j % 2 ? 4 : 2) * Math.hypot(b * east * length, a * north * length,
          a * (b2 - b1) * north * north + b * (a2 - a1) * east * east);
      }
      total += (i === 0 || i === turns ? 0.5 : 1) * inner / (3 * steps);
    }
    return 2 * PI * total / turns;
  }

  function roundedBox(length, width, height, share) {
    const radius = Math.min(share * height, Math.min(length, width, height) / 2);
    const [x, y, z] = [length - 2 * radius, width - 2 * radius, height - 2 * radius];
    const face = (one, two) => one * two + PI / 2 * radius * (one + two) + 2 / 3 * PI * radius * radius;
    return {
      volume: x * y * z + 2 * radius * (x * y + y * z + z * x) + PI * radius * radius * (x + y + z) +
        4 / 3 * PI * Math.pow(radius, 3),
      girth: 2 * (width + height) - (8 - 2 * PI) * radius,
      faces: () => ({
        "top": face(x, y), "bottom": face(x, y), "front": face(x, z), "back": face(x, z),
        "first end": face(y, z), "second end": face(y, z)
      })
    };
  }
  function long(length, w, h, taper) {
    if (Math.abs(taper - 1) < 1e-9) {
      const round = perimeter(w, h), end = PI * w * h, side = round * length / 2;
      return {volume: end * length, girth: round,
        faces: () => ({"upper side": side, "lower side": side, "first end": end, "second end": end})};
    }
    return {
      volume: PI * length / 3 * w * h * (1 + taper + taper * taper),
      girth: perimeter(w * (1 + taper) / 2, h * (1 + taper) / 2),
      faces: () => {
        const side = frustumSide(w, h, taper * w, taper * h, length) / 2;
        return {"upper side": side, "lower side": side, "first end": PI * w * h, "second end": PI * taper * taper * w * h};
      }
    };
  }

  // The cut's body of these outer sizes; a bird's skin needs its grams besides.
  scaler.body = function (cut, length, width, height, taper, grams) {
    const w = width / 2, h = height / 2;
    if (cut.shape === "rounded box") { return roundedBox(length, width, height, cut.radius); }
    if (cut.shape === "half-ellipse prism") {
      const arch = perimeter(w, height) / 2, end = PI * width * height / 4;
      return {volume: end * length, girth: arch + width,
        faces: () => ({"round side": arch * length, "flat side": width * length, "first end": end, "second end": end})};
    }
    if (cut.shape === "half ellipsoid") {
      return {volume: PI / 3 * length * w * height, girth: perimeter(w, height) / 2 + width,
        faces: () => ({"round side": ellipsoidArea(length / 2, w, height) / 2, "flat side": PI * length / 2 * w})};
    }
    if (cut.shape === "ellipsoid" || cut.shape === "bird") {
      const half = () => ellipsoidArea(length / 2, w, h) / 2;
      return {volume: 2 / 3 * PI * length * w * h, girth: perimeter(w, h),
        faces: () => cut.shape === "bird" ? {"skin": cut.skin * Math.pow(grams, 2 / 3)}
          : {"upper side": half(), "lower side": half()}};
    }
    return long(length, w, h, taper);
  };
}(window.scaler = {}));
