"use strict";
// The one audio context of a page: made by a tap and never before, ended when the reader leaves.
(() => {
  const Context = window.AudioContext || window.webkitAudioContext;
  const REST_AFTER = 1500, GIVE_UP_AFTER = 1500; // milliseconds
  const KEPT = "handbook-volume", FIRST_VOLUME = 0.8;
  const sounding = new Set(); // a function to stop each thing that sounds
  let context = null, output = null, resting = 0;

  // Playback sounds on a muted phone, but stops its other music: given up at rest.
  function session(type) {
    if (navigator.audioSession) navigator.audioSession.type = type;
  }

  // Closed, or "interrupted" by a phone call, which may last for good: the next tap makes another.
  const lost = ({ state }) => state !== "running" && state !== "suspended";

  function discard() {
    const old = context;
    context = output = null;
    if (old && old.state !== "closed") old.close().catch(() => {});
  }

  const hush = () => [...sounding].forEach((stop) => stop());

  function make() {
    const made = new Context();
    made.onstatechange = () => {
      if (made !== context || made.state === "running") return;
      hush();
      if (lost(made)) discard();
    };
    context = made;
    output = made.createGain();
    output.gain.value = gainOf(volume());
    output.connect(made.destination);
  }

  // By a tap: give the running context, or null if the device refuses.
  async function open() {
    clearTimeout(resting);
    session("playback");
    if (context && lost(context)) discard();
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

  const gainOf = (share) => share * share; // the slider's middle sounds like the middle

  function setVolume(share) {
    try { localStorage.setItem(KEPT, share); } catch { /* not kept, then */ }
    if (output) output.gain.setTargetAtTime(gainOf(share), context.currentTime, 0.02);
  }

  window.addEventListener("pagehide", () => { hush(); discard(); });
  const level = () => gainOf(volume()); // for what sounds beside the audio context
  window.handbookSound = { able: Boolean(Context), open, add, remove, volume, setVolume, level };
})();
