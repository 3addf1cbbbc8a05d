#include "core/html/style.h"

namespace tapwright::html {

// Ink on white, so that it prints as it looks. Tables become cards on a narrow screen: each cell then says its column.
const std::string_view style_sheet = R"css(
:root { color-scheme: light; --ink: #1b2125; --quiet: #566069; --line: #d3d8db; --track: #eef0f1; --block: #4a5c69;
  --good: #1d6641; --note: #2b5782; --warning: #7d5200; --stop: #9c2218; }
* { box-sizing: border-box; }
body { margin: 0; color: var(--ink); background: #fff; font: 16px/1.45 Inter, "Noto Sans", "Helvetica Neue", Arial,
  sans-serif; overflow-wrap: anywhere; }
main, footer { max-width: 58rem; margin: 0 auto; padding: 1rem; }
h1 { font-size: 1.75rem; line-height: 1.2; margin: .5rem 0; }
h2 { font-size: 1.2rem; margin: 2rem 0 .5rem; padding-bottom: .2rem; border-bottom: 1px solid var(--ink); }
h3 { font-size: 1rem; margin: 1.2rem 0 .3rem; }
p, li, td, th, dd, figcaption { white-space: pre-line; }
p { margin: .5rem 0; }
ul, ol { margin: .4rem 0; padding-inline-start: 1.4rem; }
ol > li::marker { font-weight: 700; }
.large { font-size: 1.25rem; font-weight: 600; line-height: 1.3; }
a { color: inherit; }
.kept, a[href^="tel:"] { white-space: nowrap; }
.contents ul { columns: 2; list-style: none; padding: 0; } .contents li { margin: 0; }
.contents p { font-weight: 600; margin: .8rem 0 .2rem; } .contents a { display: inline-block; padding: .25rem 0; }
li { margin: .2rem 0; }
dl { display: grid; grid-template-columns: fit-content(12rem) minmax(0, 1fr); gap: .2rem 1rem; margin: .6rem 0; }
dt { color: var(--quiet); max-width: 12rem; }
dd { margin: 0; font-weight: 500; }
table { width: 100%; border-collapse: collapse; margin: .8rem 0 1.2rem; font-size: .88rem; }
.firm { overflow-wrap: break-word; }
caption { text-align: start; font-weight: 600; padding: .2rem 0; font-size: 1rem; }
th, td { text-align: start; vertical-align: top; padding: .3rem .6rem .3rem 0; border-bottom: 1px solid var(--line); }
thead th { color: var(--quiet); font-weight: 500; border-bottom: 1.5px solid var(--ink); }
tbody th { font-weight: 600; }
.end { text-align: end; font-variant-numeric: tabular-nums; }
.good { color: var(--good); } .note { color: var(--note); } .warning { color: var(--warning); font-weight: 600; }
.stop { color: var(--stop); font-weight: 600; }
.good::before { content: "\2713\00a0"; } .note::before { content: "\25cb\00a0"; }
.warning::before { content: "\25b2\00a0"; } .stop::before { content: "\25a0\00a0"; }
p.good, p.note, p.warning, p.stop { color: var(--ink); background: var(--track); border-inline-start: 4px solid;
  padding: .5rem .7rem; }
figure { margin: .8rem 0; }
figcaption { color: var(--quiet); font-size: .85rem; margin-top: .3rem; }
img, svg.photo { max-width: 100%; height: auto; display: block; }
svg.photo { width: 100%; }
.wide { overflow-x: auto; }
svg.drawing { fill: none; stroke: var(--ink); stroke-linecap: round; stroke-linejoin: round; display: block; }
svg text { fill: var(--ink); stroke: none; font-family: inherit; }
svg .full { fill: var(--ink); }
svg.bar { width: 100%; height: 3.2rem; display: block; }
svg.bar text { font-size: 20px; }
.track { fill: var(--track); } .reserve { fill: var(--line); } .part { fill: var(--block); } .limit { fill: var(--ink); }
.hatched { fill: #fff; stroke: var(--ink); stroke-width: 2; stroke-dasharray: 6 4; }
svg .on-part { fill: #fff; }
svg.shades { display: block; width: 100%; max-width: 34rem; border: 1px solid var(--ink); }
.shade-0 { fill: #23415c; background: #23415c; } .shade-1 { fill: #426582; background: #426582; }
.shade-2 { fill: #6a8aa4; background: #6a8aa4; } .shade-3 { fill: #97afc2; background: #97afc2; }
.shade-4 { fill: #c5d3de; background: #c5d3de; } .shade-5 { fill: #eef2f5; background: #eef2f5; }
.spot { fill: #fff; stroke: var(--ink); stroke-width: 4; }
.key { list-style: none; display: flex; flex-wrap: wrap; gap: .2rem 1rem; padding: 0; font-size: .85rem; }
.key > li > span:first-child { display: inline-block; width: 1.2em; height: 1em; margin-inline-end: .4em; border: 1px solid var(--ink);
  vertical-align: -.12em; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
.halo, .pin { fill: none; stroke: #fff; stroke-width: 12; }
.pin { stroke: var(--stop); stroke-width: 6; }
svg.signature { width: 100%; max-height: 3.5rem; fill: none; stroke: var(--ink); stroke-linecap: round;
  stroke-linejoin: round; }
.sign { margin: .8rem 0; break-inside: avoid; }
.role { font-weight: 600; margin: 0; }
.line { display: grid; grid-template-columns: 3fr 4fr 2fr; gap: 1rem; }
.line > div { display: flex; flex-direction: column; justify-content: flex-end; }
.value { min-height: 2.6rem; margin: 0; display: flex; align-items: flex-end; font-weight: 500;
  border-bottom: 1px solid var(--ink); }
.word { color: var(--quiet); font-size: .75rem; margin: .1rem 0; }
.labels { display: flex; flex-wrap: wrap; margin: .5rem 0; }
.label { border: 1px dashed #9aa2a8; padding: 1.2mm; overflow: hidden; font-size: 8pt; line-height: 1.15;
  break-inside: avoid; margin: 0 -1px -1px 0; }
.label strong { display: block; font-size: 13pt; }
.label > span { display: block; }
.page-break { break-before: page; border: 0; margin: 0; }
footer { color: var(--quiet); font-size: .8rem; border-top: 1px solid var(--line); white-space: pre-line; }
@media (min-width: 46rem), print {
  .beside { display: grid; grid-template-columns: minmax(0, 1fr) minmax(0, 1fr); gap: 0 2rem; }
}
@media screen and (max-width: 46rem) {
  table, tbody, tr, td, tbody th, caption { display: block; }
  thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  tr { border-bottom: 1px solid var(--line); padding: .4rem 0; }
  td, tbody th { border: 0; padding: .1rem 0; text-align: start; }
  td.end { text-align: start; }
  td { display: grid; grid-template-columns: 7.5rem minmax(0, 1fr); gap: .6rem; }
  td[data-title]::before { content: attr(data-title); color: var(--quiet); font-weight: 400; }
  td:empty { display: none; }
  .line { grid-template-columns: 1fr; gap: .3rem; }
  dl { grid-template-columns: fit-content(8rem) minmax(0, 1fr); }
}
@media print {
  body { font-size: 9.5pt; }
  main, footer { max-width: none; padding: 0; }
  h1, h2, h3, caption { break-after: avoid; }
  h2 { margin-top: 1.1rem; }
  tr, figure, p, li { break-inside: avoid; }
  .screen { display: none; }
  .contents a { padding: 0; text-decoration: none; }
  .one-page { font-size: 9.5pt; line-height: 1.2; break-after: page; } .one-page:last-child { break-after: auto; }
  .one-page h1 { font-size: 17pt; margin: 0; } .one-page h2 { font-size: 12pt; margin: .4rem 0 .1rem; padding: 0; }
  .one-page h3 { font-size: 10pt; margin: .35rem 0 .1rem; }
  .one-page table { margin: .2rem 0; font-size: 9pt; overflow-wrap: break-word; } .one-page tbody th { max-width: 9rem; } .one-page caption { font-size: 9.5pt; padding: 0; }
  .one-page th, .one-page td { padding: .08rem .5rem .08rem 0; } .one-page p { margin: .2rem 0; }
  .one-page p.stop, .one-page p.note { padding: .2rem .5rem; }
  .one-page ul, .one-page ol { margin: .2rem 0; } .one-page li { margin: .08rem 0; }
  .one-page .value { min-height: 1.8rem; } .one-page .sign { margin: .2rem 0; }
  .one-page dl { gap: 0 .8rem; margin: .2rem 0; } .large { font-size: 12pt; }
  .compact table { font-size: 8pt; margin: .3rem 0 .6rem; } .compact th, .compact td { padding: .1rem .4rem .1rem 0; }
  .beside { gap: 0 1.2rem; }
  svg, img, .label, p.stop, p.note, p.warning { print-color-adjust: exact; }
  .wide { overflow: visible; }
  svg.drawing { max-width: 100%; height: auto; }
}
)css";

}  // namespace tapwright::html
