// SPDX-License-Identifier: Apache-2.0
// The film on the page: every frame is the empty pan with what has changed laid over it.
(function () {
  "use strict";
  var film = document.getElementById("film");
  var data = JSON.parse(document.getElementById("film-data").textContent);
  var canvas = film.querySelector("canvas");
  var pen = canvas.getContext("2d");
  var play = document.getElementById("film-play");
  var slider = document.getElementById("film-time");
  var speed = document.getElementById("film-speed");
  var last = data.frames.length - 1;
  var now = 0;
  var running = false;
  var started = 0;
  var from = 0;

  function picture(text) {
    var image = new Image();
    image.src = "data:image/png;base64," + text;
    return image;
  }

  var base = picture(data.base);
  var images = [];

  function frame(k) {
    if (!images[k]) {
      images[k] = picture(data.frames[k]);
    }
    return images[k];
  }

  function paint(k) {
    var image = frame(k);
    if (!base.complete || !image.complete) {
      [base, image].forEach(function (one) {
        one.onload = function () {
          if (k === now) {
            paint(k);
          }
        };
      });
      return;
    }
    pen.drawImage(base, 0, 0);
    pen.drawImage(image, 0, 0);
  }

  // A line through the charts at the film's time; a press on a chart goes to that time.
  var cursors = [];
  Array.prototype.forEach.call(document.querySelectorAll("figure.time svg, figure.strip svg"), function (svg) {
    var line = document.createElementNS("http://www.w3.org/2000/svg", "line");
    line.setAttribute("class", "now");
    line.setAttribute("y1", "0");
    line.setAttribute("y2", String(svg.viewBox.baseVal.height));
    svg.appendChild(line);
    cursors.push(line);
    svg.addEventListener("click", function (event) {
      var box = svg.getBoundingClientRect();
      var x = (event.clientX - box.left) / box.width * svg.viewBox.baseVal.width;
      var share = (x - data.left) / (data.right - data.left);
      if (share >= 0 && share <= 1) {
        stop();
        show(Math.round(share * last));
      }
    });
  });

  function write(name, text) {
    document.getElementById("film-" + name).textContent = text;
  }

  function show(k) {
    now = Math.max(0, Math.min(last, k));
    var words = data.words[now];
    paint(now);
    ["clock", "part", "push", "cover", "air", "inlet", "rpm"].forEach(function (name, n) {
      write(name, words[n]);
    });
    film.classList.toggle("dry", data.dry[now] === 1);
    slider.value = String(now);
    slider.setAttribute("aria-valuetext", words[0]);
    words.slice(7).forEach(function (text, n) {
      write("oil-" + n, text);
      document.getElementById("film-bar-" + n).setAttribute("width", String(data.share[now][n]));
    });
    document.getElementById("film-arrow").setAttribute("points", data.arrows[now]);
    var x = data.left + (data.right - data.left) * now / last;
    cursors.forEach(function (line) {
      line.setAttribute("x1", x);
      line.setAttribute("x2", x);
    });
  }

  function stop() {
    running = false;
    play.textContent = "Play";
  }

  function step(time) {
    if (!running) {
      return;
    }
    var k = from + Math.floor((time - started) / data.tick * Number(speed.value));
    if (k !== now) {
      show(k);
    }
    for (var ahead = now; ahead < Math.min(now + 12, last); ahead += 1) {
      frame(ahead + 1);
    }
    if (k >= last) {
      stop();
    } else {
      window.requestAnimationFrame(step);
    }
  }

  function begin() {
    from = now >= last ? 0 : now;
    running = true;
    play.textContent = "Pause";
    window.requestAnimationFrame(function (time) {
      started = time;
      step(time);
    });
  }

  play.addEventListener("click", function () {
    if (running) {
      stop();
    } else {
      begin();
    }
  });
  slider.addEventListener("input", function () {
    stop();
    show(Number(slider.value));
  });
  speed.addEventListener("change", function () {
    if (running) {
      begin();
    }
  });
  film.hidden = false;
  show(data.first);
})();
