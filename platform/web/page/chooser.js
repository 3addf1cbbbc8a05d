// Choosing files. A browser opens its chooser only inside a touch, and the program answers a moment later: so the page
// opens it for the buttons that the program has published, and what was chosen waits until the program asks for it.
'use strict';

const accepted = {
  photo: 'image/*',
  open_job: '.tapjob,application/octet-stream',
  import_json: '.json,application/json',
  import_types: '.json,application/json',
};
const patienceMs = 1500;

export class Chooser {
  #post;
  #touchedAt = -Infinity;
  #kind = '';

  constructor(post) { this.#post = post; }

  /** Inside a touch on a button of that kind. */
  touched(kind) {
    this.#touchedAt = performance.now();
    this.#kind = kind;
    this.#open(kind);
  }

  /** The program asks for a file. */
  wanted(purpose) {
    const isOpen = this.#kind === purpose && performance.now() - this.#touchedAt < patienceMs;
    this.#kind = '';
    if (!isOpen) this.#open(purpose);
  }

  #open(purpose) {
    const input = document.createElement('input');
    input.type = 'file';
    input.accept = accepted[purpose] || '';
    input.multiple = purpose === 'photo';
    input.addEventListener('change', () => {
      if (input.files.length) this.#post({kind: 'chosen', purpose, list: [...input.files]});
    });
    input.click();
  }
}
