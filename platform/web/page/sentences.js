// What the page itself says, where the program cannot: before it runs, or when it has stopped. All other sentences are
// the program's own. One table, so that it can be translated.
'use strict';

const english = {
  no_worker: 'This browser cannot run Tapwright: it is too old. Update it, or use another one.',
  no_webgl: 'Tapwright draws with WebGL, which this browser refuses. Switch hardware acceleration on in its settings, or use another browser.',
  not_loaded: 'Tapwright could not be loaded. Check the connection, then load the page again.',
  stopped: 'Tapwright has stopped, most likely because memory ran out. Everything it showed as saved is saved. Load the page again.',
  update_ready: 'A new version of Tapwright is ready. It starts when you say so; nothing is lost.',
  update_now: 'Start it now',
  update_later: 'Later',
};

const languages = { en: english };

/** The sentence of that name in the browser's language, in English where there is no translation. */
export function sentence(name) {
  const wanted = navigator.languages.map(code => code.split('-')[0]).find(code => languages[code]);
  return (languages[wanted] || english)[name] || english[name];
}
