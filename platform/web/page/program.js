// The program's code, which the page compiles while its worker is still being made.
'use strict';

/** Fetches and compiles it. Resolves to a WebAssembly.Module. */
export async function compiledProgram(url) {
  try {
    return await WebAssembly.compileStreaming(fetch(url));
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    return WebAssembly.compile(await (await fetch(url)).arrayBuffer());  // of a host that calls it another type of file
  }
}
