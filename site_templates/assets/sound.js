"use strict";
// The one audio context of a page, shared by click and drone. It is made by the first tap
// and never before, rests when nothing sounds, and ends when the reader leaves.
(() => {
  const Context = window.AudioContext || window.webkitAudioContext;
  const REST_AFTER = 1500, GIVE_UP_AFTER = 1500; // milliseconds
  const KEPT = "handbook-volume", FIRST_VOLUME = 0.8;
  const sounding = new Set(); // a function to stop each thing that sounds
  let context = null;
  let output = null;
  let resting = 0;

  // A phone's mute switch silences this kind of sound unless it is named playback. That
  // stops the phone's other music, so it is given up again at rest.
  function session(type) {
    try { if (navigator.audioSession) navigator.audioSession.type = type; } catch { /* not here, then */ }
  }

  function discard() {
    const old = context;
    context = output = null;
    if (old && old.state !== "closed") old.close().catch(() => {});
  }

  function hush() {
    for (const stop of [...sounding]) stop();
  }

  function make() {
    const made = new Context();
    made.onstatechange = () => {
      if (made !== context || made.state === "running") return;
      hush();
      // After a phone call a context may stay "interrupted" for good: the next tap makes another.
      if (made.state !== "suspended") discard();
    };
    context = made;
    output = made.createGain();
    output.gain.value = gainOf(volume());
    output.connect(made.destination);
  }

  // To be called by a tap. Gives the running context, or null if the device refuses.
  async function open() {
    clearTimeout(resting);
    session("playback");
    if (context && context.state !== "running" && context.state !== "suspended") discard();
    if (!context) make();
    const mine = context;
    await Promise.race([mine.resume().catch(() => {}), new Promise((done) => { setTimeout(done, GIVE_UP_AFTER); })]);
    if (mine === context && mine.state === "running") return { context: mine, output };
    if (mine === context) discard();
    return null;
  }

  function add(stop) {
    clearTimeout(resting);
    sounding.add(stop);
  }

  function remove(stop) {
    sounding.delete(stop);
    clearTimeout(resting);
    resting = setTimeout(() => {
      if (sounding.size || !context) return;
      context.suspend().catch(() => {});
      session("auto");
    }, REST_AFTER);
  }

  function volume() {
    try {
      const kept = Number.parseFloat(localStorage.getItem(KEPT));
      return kept >= 0 && kept <= 1 ? kept : FIRST_VOLUME;
    } catch { return FIRST_VOLUME; }
  }

  const gainOf = (share) => share * share; // so that the slider's middle sounds like the middle

  function setVolume(share) {
    try { localStorage.setItem(KEPT, String(share)); } catch { /* not kept, then */ }
    if (output) output.gain.setTargetAtTime(gainOf(share), context.currentTime, 0.02);
    for (const slider of document.querySelectorAll("[data-volume]")) slider.value = String(share);
  }

  function bindVolume(slider) {
    slider.value = String(volume());
    slider.addEventListener("input", () => setVolume(Number(slider.value)));
  }

  // Clone a page's template of controls; scripts put them there, so that no button is dead.
  function controls(id) {
    const template = Context && document.getElementById(id);
    return template ? { words: template.dataset, clone: () => template.content.cloneNode(true) } : null;
  }

  window.addEventListener("pagehide", () => { hush(); discard(); });
  window.handbookSound = { open, add, remove, bindVolume, controls };
})();
