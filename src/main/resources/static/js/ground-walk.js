// Corners walked with a phone: several fixes a corner, averaged by their accuracy.
"use strict";

(() => {
  const live = document.querySelector("[data-walk]");
  const text = live && document.getElementById(live.dataset.walk);
  if (!text || !("geolocation" in navigator)) {
    return;
  }
  const FIXES = 10;
  const MOST_MS = 20000;
  const VINE_M2 = 2.64; // a vine at 2.2 by 1.2 m
  const per = Number(live.dataset.per);
  live.hidden = false;
  const button = live.querySelector(".walk-take");
  const said = live.querySelector(".walk-said");
  const corners = () => text.value.split(/\r?\n/).filter((l) => l.trim()).map((l) => l.split(/[,; ]+/).map(Number));

  const written = (n, digits) => n.toLocaleString(document.documentElement.lang, { minimumFractionDigits: digits, maximumFractionDigits: digits, useGrouping: false });
  const tell = () => {
    const all = corners();
    if (all.length < 3) {
      return;
    }
    const middle = all[0];
    const flat = all.map(([lon, lat]) => [(lon - middle[0]) * 111320 * Math.cos(middle[1] * Math.PI / 180), (lat - middle[1]) * 110574]);
    const n = flat.length;
    const area = Math.abs(flat.reduce((s, p, i) => s + p[0] * flat[(i + 1) % n][1] - flat[(i + 1) % n][0] * p[1], 0)) / 2;
    const error = Math.sqrt(flat.reduce((s, p, i) => {
      const a = flat[(i + n - 1) % n];
      const b = flat[(i + 1) % n];
      return s + (all[i][2] * Math.hypot(b[0] - a[0], b[1] - a[1]) / 2) ** 2;
    }, 0));
    said.textContent = `${live.dataset.area} ${written(area * per, 0)} ± ${written(error * per, 0)} ${live.dataset.square}; ${live.dataset.vines} ± ${written(error / VINE_M2, 0)}`;
  };

  button.addEventListener("click", () => {
    const fixes = [];
    button.disabled = true;
    said.textContent = live.dataset.wait;
    const done = () => {
      navigator.geolocation.clearWatch(watch);
      clearTimeout(timer);
      button.disabled = false;
      if (!fixes.length) {
        said.textContent = live.dataset.denied;
        return;
      }
      // the first fix can still be that of where one stood before
      const used = fixes.length > 2 ? fixes.slice(1) : fixes;
      let weights = 0;
      let lon = 0;
      let lat = 0;
      used.forEach((f) => { const w = 1 / f.accuracy ** 2; weights += w; lon += w * f.longitude; lat += w * f.latitude; });
      // fixes of one minute share most of their error: the mean is taken as no better than the best of them
      const best = Math.min(...used.map((f) => f.accuracy));
      text.value = `${text.value.trim()}\n${(lon / weights).toFixed(7)} ${(lat / weights).toFixed(7)} ${best.toFixed(1)}`.trim();
      said.textContent = `${live.dataset.fix} ${corners().length}: ± ${written(best, 1)} m (${used.length})`;
      tell();
    };
    const watch = navigator.geolocation.watchPosition((p) => {
      fixes.push(p.coords);
      said.textContent = `${live.dataset.wait} ${fixes.length}/${FIXES}, ± ${written(p.coords.accuracy, 1)} m`;
      if (fixes.length >= FIXES) {
        done();
      }
    }, (trouble) => {
      // a fix that fails now and then is no reason to stop; the timer ends what never comes
      if (trouble.code === trouble.PERMISSION_DENIED) {
        done();
      }
    }, { enableHighAccuracy: true, maximumAge: 0, timeout: MOST_MS });
    const timer = setTimeout(done, MOST_MS);
  });
})();
