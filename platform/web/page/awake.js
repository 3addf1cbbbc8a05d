// The screen stays on while somebody records: a meter is read with both hands, and a phone that locks itself meanwhile
// wants a code typed on a ladder. It may sleep again when nobody has touched it for some minutes.
'use strict';

const minutes = 5;

export class Awake {
  #lock = null;
  #timer = 0;
  #hasJob = false;

  constructor() {
    addEventListener('pointerdown', () => this.#touched(), {capture: true, passive: true});
    document.addEventListener('visibilitychange', () => { if (!document.hidden) this.#touched(); });
  }

  /** The program has come to rest with these marks: the job's name is on them while one is open. */
  update(marks) {
    const had = this.#hasJob;
    this.#hasJob = marks.some(mark => mark.role === 'place');
    if (this.#hasJob && !had) this.#touched();
    if (!this.#hasJob) this.#release();
  }

  #touched() {
    if (!this.#hasJob || !navigator.wakeLock) return;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#release(), minutes * 60 * 1000);
    if (!this.#lock && !document.hidden) this.#take();
  }

  async #take() {
    this.#lock = 'asked for';
    try {
      const lock = await navigator.wakeLock.request('screen');
      lock.addEventListener('release', () => { if (this.#lock === lock) this.#lock = null; });
      this.#lock = lock;
      if (!this.#hasJob) this.#release();
    } catch {
      this.#lock = null;  // a phone that saves its battery refuses
    }
  }

  #release() {
    clearTimeout(this.#timer);
    if (this.#lock?.release) this.#lock.release().catch(() => {});
    this.#lock = null;
  }
}
