'use strict';
// Keys, live changes, reading aloud, sounds, a screen kept awake. Without it the page is plain forms.
const lost = document.getElementById('lost');
const choice = name => document.getElementById(name);
let gone = false, underWay = false;

for (const name of ['aloud', 'sounds']) {
  const box = choice(name);
  box.parentElement.hidden = false;
  box.checked = localStorage.getItem(name) === 'yes';
  box.onchange = () => { localStorage.setItem(name, box.checked ? 'yes' : 'no'); tell(); };
}

function connected(is) {
  gone = !is;
  lost.hidden = is;
}

function tell() {
  window.speechSynthesis?.cancel();
  if (choice('aloud').checked && window.speechSynthesis) speechSynthesis.speak(new SpeechSynthesisUtterance(document.querySelector('main').dataset.aloud));
}

let audio;
// Two short tones: a rising one for what was logged, a low one for a press that was too early.
function sound(what) {
  if (!choice('sounds').checked || !what) return;
  audio ??= new AudioContext();
  const tone = audio.createOscillator(), volume = audio.createGain(), now = audio.currentTime;
  tone.connect(volume).connect(audio.destination);
  tone.frequency.setValueAtTime(what === 'logged' ? 520 : 180, now);
  if (what === 'logged') tone.frequency.setValueAtTime(780, now + 0.09);
  volume.gain.setValueAtTime(0.15, now);
  volume.gain.setValueAtTime(0, now + (what === 'logged' ? 0.18 : 0.35));
  tone.start(now);
  tone.stop(now + 0.4);
}

// show puts the page as it is now in place of what it was, the focus where it stood.
function show(html) {
  const old = document.querySelector('main'), at = document.activeElement;
  const fresh = new DOMParser().parseFromString(html, 'text/html').querySelector('main');
  if (!fresh || Number(fresh.dataset.changes) < Number(old.dataset.changes)) return; // an answer overtaken by a later view
  const motion = old.querySelector('#motion'), next = fresh.querySelector('#motion');
  if (motion && next) next.open = motion.open;
  const before = old.dataset.aloud;
  old.replaceWith(fresh);
  if (at && at.name && old.contains(at)) {
    const same = [...fresh.querySelectorAll(`button[name="${at.name}"]`)].find(b => b.value === at.value);
    (same || fresh.querySelector('.buttons button')).focus();
  }
  if (fresh.dataset.aloud !== before) tell();
}

const number = () => Array.from(crypto.getRandomValues(new Uint8Array(16)), b => b.toString(16).padStart(2, '0')).join('');
const pause = ms => new Promise(done => setTimeout(done, ms));

// send sends a press until it is answered; its number makes it count once.
async function send(fields) {
  for (let wait = 250; ; wait = Math.min(2 * wait, 2000)) {
    try {
      const answer = await fetch('/press', { method: 'POST', body: fields, headers: { Accept: 'text/x-fragment' }, signal: AbortSignal.timeout(8000) });
      return { status: answer.status, text: await answer.text() };
    } catch {
      connected(false);
      await pause(wait);
    }
  }
}

// press sends a press and shows what came of it. True once something was logged.
async function press(fields) {
  if (underWay || gone) return false;
  underWay = true;
  fields.set('press', number());
  try {
    const { status, text } = await send(fields);
    connected(true);
    if (status === 403) {
      location.reload();
      return false;
    }
    if (status !== 200) {
      document.querySelector('.sayings').textContent = text;
      return false;
    }
    show(text);
    const what = document.querySelector('main').dataset.sound;
    sound(what);
    return what === 'logged';
  } finally {
    underWay = false;
  }
}

document.addEventListener('submit', async event => {
  const form = event.target;
  event.preventDefault();
  if (await press(new URLSearchParams(new FormData(form, event.submitter))) && form.querySelector('textarea')) {
    form.reset();
    scrollTo(0, 0);
  }
});

document.addEventListener('keydown', event => {
  if (event.ctrlKey || event.metaKey || event.altKey || event.target.closest('textarea, select, input, summary')) return;
  const own = event.target.closest('button') && (event.key === 'Enter' || event.key === ' ');
  const button = [...document.querySelectorAll('main button[name=key]')].find(b => b.value === event.key);
  if (own || !button) return;
  event.preventDefault();
  if (!event.repeat) press(new URLSearchParams(new FormData(button.form, button)));
});

const live = () => {
  const events = new EventSource('/live');
  events.onopen = () => connected(true);
  events.onmessage = event => show(event.data);
  events.onerror = () => {
    connected(false);
    if (events.readyState === EventSource.CLOSED) pause(2000).then(live);
  };
};
live();

// Browsers keep the screen awake on secure pages only, which pages of this computer are.
const awake = () => { if (!document.hidden) navigator.wakeLock?.request('screen').catch(() => {}); };
document.addEventListener('visibilitychange', awake);
awake();
