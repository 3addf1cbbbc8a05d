// Puts the functions of a program in an order that gzip makes more of:  node order.mjs IN.wat OUT.wat
//
// gzip finds again only what stood within the last 32 kB, and functions that are alike come from all over the program:
// the same thing done to another type of record. So those before are followed by the one most like them of those that are
// left: the one that shares most pairs of instructions with them, the last ones counting most. The few that are called most often come before all others, because a call
// of one of the first 128 functions, imported ones among them, is a byte shorter. IN.wat is what wasm-opt writes with -S: a
// block for each function, an instruction on each line.
import * as fs from 'node:fs';

const shortIndices = 128;
const mostSharers = 300;  // a pair that so many functions have says nothing of any
const faded = 0.75;  // what a pair shared with the one before counts, against the last one; less and less further back

const before = (a, b) => (a < b ? -1 : a > b ? 1 : 0);

// {block, calls, body} for each function, and the other blocks of the module.
function parsed(text) {
  const blocks = text.slice(0, text.lastIndexOf('\n')).split(/\n(?= \()/);  // without the last line, which closes the module
  const calls = new Map();
  for (const [, name] of text.matchAll(/\(call (\$[^\s()]+)/g)) calls.set(name, (calls.get(name) || 0) + 1);
  const functions = [], others = [];
  for (const block of blocks) {
    const [, name] = /^ \(func (\$[^\s()]+)/.exec(block) || [];
    if (name) functions.push({block, calls: calls.get(name) || 0, body: block.slice((block + '\n').indexOf('\n'))});
    else others.push(block);
  }
  return {functions, others};
}

// The pairs of instructions that follow each other in a function, each once.
function pairsOf({body}) {
  const lines = body.split('\n').map(line => line.trim()).filter(line => line !== ')');
  return new Set(lines.slice(1).map((line, index) => lines[index] + ' ' + line));
}

// In that order, beginning with the first.
function alikeTogether(functions) {
  const pairs = functions.map(pairsOf);
  const sharers = new Map();  // pair -> the functions left that have it
  pairs.forEach((set, at) => {
    for (const pair of set) {
      if (!sharers.has(pair)) sharers.set(pair, []);
      sharers.get(pair).push(at);
    }
  });
  const isLeft = functions.map(() => true), order = [];
  let at = 0, earlier = new Map();
  while (at >= 0) {
    isLeft[at] = false;
    order.push(functions[at]);
    const shared = new Map();
    for (const pair of pairs[at]) {
      const left = sharers.get(pair).filter(other => isLeft[other]);
      sharers.set(pair, left);
      if (left.length <= mostSharers) for (const other of left) shared.set(other, (shared.get(other) || 0) + 1);
    }
    for (const [other, count] of earlier) if (isLeft[other]) shared.set(other, (shared.get(other) || 0) + faded * count);
    earlier = shared;
    let next = -1, most = 0;
    for (const [other, count] of shared) {
      const likeness = count / Math.sqrt(pairs[other].size);
      if (likeness > most) [next, most] = [other, likeness];
    }
    at = next >= 0 ? next : isLeft.indexOf(true);
  }
  return order;
}

const [from, to] = process.argv.slice(2);
const {functions, others} = parsed(fs.readFileSync(from, 'utf8').trimEnd());
const imports = others.filter(block => /^ \(import .* \(func /.test(block)).length;
functions.sort((a, b) => b.calls - a.calls || before(a.body, b.body));
const often = functions.splice(0, shortIndices - imports);
for (const some of [often, functions]) some.sort((a, b) => before(a.body, b.body));
fs.writeFileSync(to, [...others, ...[...often, ...alikeTogether(functions)].map(({block}) => block)].join('\n') + '\n)\n');
