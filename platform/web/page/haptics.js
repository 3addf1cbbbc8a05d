// What a thumb feels, where the device can: a short touch when something is saved, two when a verdict says stop.
'use strict';

const saved = [15], stop = [70, 50, 70];  // milliseconds: on, off, on

const canFeel = () => Boolean(navigator.vibrate) && navigator.userActivation?.hasBeenActive !== false;

function vibrate(pattern) {
  if (canFeel()) navigator.vibrate(pattern);
}

export class Haptics {
  #stops = new Set();

  saved() { vibrate(saved); }

  /** The program has come to rest with these marks. */
  update(marks) {
    const stops = new Set(marks.filter(mark => mark.role === 'alert' && !mark.behind).map(mark => mark.label || mark.text));
    const isNew = [...stops].some(words => !this.#stops.has(words));
    this.#stops = stops;
    if (isNew) vibrate(stop);
  }
}
