// Puts the service worker in place and tells when another version of the program is ready. Nothing changes until
// take() is called: see service_worker.js.

// Registers the service worker. `offered` is called, each time a check finds it so, with a function `take` that chooses
// the version that is ready and resolves when the next load of the page starts it. Resolves when the program is on the
// device, so that it starts without a network; to false where there are no service workers or the host gave no whole
// version.
export async function keepOnDevice(offered) {
  if (!('serviceWorker' in navigator)) return false;
  const workers = navigator.serviceWorker;
  const look = async () => {
    const state = await ask('state');
    if (state && state.chosen !== state.newest) offered(() => ask('take'));
  };
  workers.addEventListener('controllerchange', look);
  try {
    const registration = await workers.register('service_worker.js', {updateViaCache: 'none'});
    await workers.ready;
    await look();
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'visible' && navigator.onLine) registration.update().catch(() => {});
    });
    return true;
  } catch (error) {
    return Boolean(workers.controller);
  }
}

// Asks the service worker that serves this page. Returns: {chosen, newest}, or null where none answers.
async function ask(kind) {
  const registration = await navigator.serviceWorker.ready;
  const channel = new MessageChannel();
  const answer = new Promise(done => {
    channel.port1.onmessage = event => done(event.data);
  });
  registration.active.postMessage({kind}, [channel.port2]);
  return answer;
}
