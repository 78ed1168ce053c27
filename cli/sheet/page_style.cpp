#include "sheet/page_style.hpp"

namespace runnel::cli::sheet {

// In parts: a compiler need not take a longer literal than 65,536 characters, and a reader would
// not.
const std::string_view page_style = R"(
:root {
  --paper: #fcfbf7; --ink: #16272c; --soft: #51636a; --line: #cfd6d3; --water: #0d6482;
  --held: #b9d9e3; --spare: #eef3ef; --hours: #edf0ea; --dry: #9c3b12; --alarm: #fbe9df;
}
@media screen and (prefers-color-scheme: dark) {
  :root {
    --paper: #10191c; --ink: #e9efed; --soft: #a3b3b6; --line: #37484d; --water: #66c3e0;
    --held: #1f4d5d; --spare: #1a272b; --hours: #1c2a2e; --dry: #ff9f73; --alarm: #3a2117;
  }
}
* { box-sizing: border-box; }
html { font: 100%/1.4 system-ui, "Noto Sans", "DejaVu Sans", sans-serif; color: var(--ink);
  background: var(--paper); -webkit-text-size-adjust: 100%; text-size-adjust: 100%; }
body { margin: 0 auto; padding: 1rem; max-width: 66rem; overflow-wrap: anywhere;
  font-variant-numeric: tabular-nums; }
h1, h2, h3, p, ul, ol, figure, table { margin: 0; }
h1 { font-size: 1.6rem; line-height: 1.15; }
h2 { font-size: 1.05rem; margin: 1.6rem 0 .4rem; padding-top: .35rem; border-top: 2px solid var(--ink); }
h3 { font-size: 1rem; font-weight: 600; display: flex; align-items: center; gap: .4rem; }
ul, ol { padding-left: 1.3rem; }
li + li { margin-top: .25rem; }
a { color: inherit; }
header p { color: var(--soft); }
header .alarm { margin-top: .5rem; padding: .4rem .7rem; color: var(--ink); background: var(--alarm);
  border: 1px solid var(--dry); border-left-width: 6px; }
.marks { position: absolute; }
table { border-collapse: collapse; width: 100%; }
th { text-align: left; font-weight: 600; }
caption { text-align: left; color: var(--soft); font-size: .85rem; }
)"
                                    R"(
.lid { display: inline-flex; flex: none; align-items: center; justify-content: center;
  min-width: 2.1rem; height: 2.1rem; padding: 0 .3rem; border: 2px solid var(--ink);
  border-radius: 1.05rem; outline: 1px solid var(--ink); outline-offset: 2px; font-size: 1.15rem;
  font-weight: 700; line-height: 1; }
.lid.small { min-width: 1.4rem; height: 1.4rem; font-size: .85rem; border-width: 1.5px; outline: none; }
.set thead th { overflow-wrap: normal; color: var(--soft); font-size: .8rem; font-weight: 400; padding: .2rem .3rem; }
.set tbody { border-top: 1px solid var(--line); }
.set tbody th { display: flex; align-items: center; gap: .6rem; padding: .6rem .3rem .1rem .2rem;
  line-height: 1.2; }
.set tbody td { padding: .5rem .3rem .1rem; vertical-align: middle; }
.set .days, .set .starts { font-weight: 600; font-size: 1.05rem; line-height: 1.2;
  overflow-wrap: normal; }
.set .days, .set .starts { width: 22%; }
.set .minutes { text-align: right; width: 18%; }
.set td.minutes { font-size: 2.3rem; line-height: 1; font-weight: 750; white-space: nowrap;
  overflow-wrap: normal; }
.set td.minutes small { font-size: .9rem; font-weight: 400; }
.set td.minutes.off { font-size: 1.4rem; color: var(--soft); }
.set .why td { padding: 0 .3rem .5rem; color: var(--soft); font-size: .85rem; }
.set .why td:first-child { padding-left: 3.1rem; }
.set .litres { text-align: right; white-space: nowrap; color: var(--soft); font-size: .85rem; }
.set tfoot th, .set tfoot td { border-top: 1px solid var(--ink); padding: .3rem; font-weight: 600;
  color: var(--ink); font-size: .9rem; }
.changes tbody th { display: table-cell; vertical-align: top; }
.changes .lid { margin-right: .6rem; }
.changes th.setting { font-weight: 400; color: var(--soft); padding: .5rem .3rem .1rem; vertical-align: middle; }
.changes .was { color: var(--soft); }
.changes .setting, .changes .was, .changes .now { overflow-wrap: normal; }
.changes .now { font-weight: 700; font-size: 1.15rem; line-height: 1.2; }
.changes .setting, .changes .was { width: 20%; }
.changes td.minutes { text-align: left; width: 24%; }
.leave ul { list-style: none; padding-left: 0; }
.leave li { display: flex; gap: .5rem; align-items: flex-start; font-size: .9rem; }
.pair { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(22rem, 100%), 1fr));
  gap: 0 2rem; align-items: start; }
.pair > * { min-width: 0; }
.faults { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(22rem, 100%), 1fr)); gap: 0 2rem; }
.advice li { max-width: 46rem; }
)"
                                    R"(
svg { display: block; overflow: visible; font: 10px system-ui, "Noto Sans", "DejaVu Sans", sans-serif; }
svg text { fill: var(--soft); }
.middle { text-anchor: middle; }
.side, .end { text-anchor: end; }
.beyond { fill: var(--paper); }
.run-minutes { font-size: 9px; }
.strong { font-weight: 700; }
svg text.strong, svg text.amount { fill: var(--ink); }
.week { display: grid; grid-template-columns: minmax(0, auto) minmax(0, 1fr); gap: .5rem; }
.names { list-style: none; padding-left: 0; max-width: 13rem; font-size: .9rem; }
.names li { margin: 0; overflow: hidden; white-space: nowrap; text-overflow: ellipsis; }
.names b { display: inline-block; min-width: 1.2rem; }
.hours { fill: var(--hours); }
.row { stroke: var(--line); }
.hour { font-size: 9px; }
.run { fill: var(--water); stroke: var(--water); stroke-width: 1.5; }
figcaption, .key { color: var(--soft); font-size: .85rem; }
.waters { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(17.5rem, 100%), 1fr));
  gap: 1rem 1.5rem; margin-top: .5rem; }
.waters figure { max-width: 34rem; min-width: 0; break-inside: avoid; }
.waters h3 bdi { overflow: hidden; white-space: nowrap; text-overflow: ellipsis; }
.waters figure > svg { margin: .2rem 0 0 2.2rem; width: calc(100% - 2.2rem); }
.spare { fill: var(--spare); }
.dry { fill: url(#dry); }
.dry-line { stroke: var(--dry); stroke-width: 1.2; }
.limit { stroke: var(--dry); stroke-width: 1.5; stroke-dasharray: 4 2; }
.full { stroke: var(--soft); }
.midnight { stroke: var(--line); }
.held { fill: var(--held); fill-opacity: .75; }
.course { fill: none; stroke: var(--water); stroke-width: 2; vector-effect: non-scaling-stroke;
  stroke-linejoin: round; }
.judged { stroke: var(--ink); stroke-width: 5; stroke-linecap: round; vector-effect: non-scaling-stroke; }
.amount { font-size: 9px; }
.watering-mark { fill: var(--water); }
.rain-mark { fill: none; stroke: var(--water); stroke-width: 1.4; }
.mark { display: inline-block; vertical-align: -1px; }
.sample { display: inline-block; width: 1.6rem; border-top: 2px dashed var(--dry); vertical-align: middle; }
.use { fill: var(--held); stroke: var(--water); }
.eto { stroke: var(--ink); stroke-width: 1.5; }
.bar { margin-top: .3rem; max-width: 40rem; }
.weather figure > svg { margin: .2rem 0 .3rem 2.2rem; width: calc(100% - 2.2rem); }
.assumed { fill: var(--spare); stroke: var(--ink); }
.expected { stroke: var(--ink); stroke-width: 2.5; }
.dryness td.bar { width: 30%; margin: 0; }
.figures .lid.small { min-width: 1.2rem; height: 1.2rem; font-size: .75rem; }
.figures th[scope=colgroup] { text-align: center; }
.figures tr + tr > th[scope=col]:first-child { text-align: right; width: auto; }
.dryness th:first-child { width: 30%; }
.figures td { white-space: nowrap; }
.programme td { white-space: normal; }
.figures tr.sum th, .figures tr.sum td { font-weight: 700; }
.uses td.days, .uses td.starts { white-space: nowrap; }
.uses tfoot td { text-align: right; }
.uses .why td:first-child { padding-right: .4rem; }
.figures { font-size: .8rem; table-layout: fixed; }
.figures th:first-child, .figures td:first-child { width: 22%; }
.figures th, .figures td { text-align: right; padding: .1rem .15rem; border-top: 1px solid var(--line);
  overflow-wrap: normal; }
.figures th:first-child { text-align: left; }
.figures .sum { font-weight: 700; }
details { font-size: .85rem; color: var(--soft); }
summary { cursor: pointer; padding: .3rem 0; }
.notes { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(22rem, 100%), 1fr));
  gap: 0 2rem; }
.notes p { font-size: .9rem; }
@media screen and (max-width: 34rem) {
  .names span { display: none; }
  .names b { min-width: 0; }
  .hour.end, .run-minutes { display: none; }
  .set .days, .set .starts, .set .minutes { width: 1%; }
  .set tbody th { gap: .5rem; }
  .figures { font-size: .7rem; }
  .set .name { min-width: 5.2rem; }
  .set td.minutes { font-size: 2rem; }
  .set td.minutes small { display: block; font-size: .75rem; }
  .set .why td:first-child { padding-left: .3rem; }
}
)"
                                    R"(
@page { margin: 8mm; }
@media print {
  :root { --paper: #fff; --ink: #000; --soft: #333; --line: #bbb; --water: #06455c; --held: #cfe2e9;
    --spare: #f6f6f6; --hours: #ededed; --dry: #7a2a08; --alarm: #fff; }
  html { font-size: 9.5pt; line-height: 1.3; }
  body { padding: 0; max-width: none; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  h2 { margin: 2.5mm 0 .8mm; padding-top: .6mm; border-top-width: .4mm; break-after: avoid; }
  tbody, figure, li, .notes section { break-inside: avoid; }
  details { display: none; }
  .faults { grid-template-columns: 2fr 3fr; gap: 0 6mm; font-size: 8.5pt; }
  .faults section:only-child { grid-column: span 2; }
  .waters { grid-template-columns: repeat(3, 1fr); gap: 1.5mm 5mm; margin-top: 1mm; }
  .waters figcaption { font-size: 8pt; }
  .pair { grid-template-columns: 1fr 1fr; gap: 0 6mm; }
  .notes { display: block; columns: 2; column-gap: 6mm; }
  .notes h2 { margin-top: 0; }
  .notes section { padding-top: 2mm; }
  .notes p { font-size: 8.5pt; }
  .crowded { font-size: 9pt; line-height: 1.25; }
  .crowded .alarm { margin-top: 1mm; padding: .5mm 2mm; }
  .crowded .set td.minutes { font-size: 19pt; }
  .crowded .lid { outline: none; }
  .crowded .set tbody th, .crowded .set tbody td { padding-top: 1mm; }
  .crowded .set tbody .why td { padding-top: 0; padding-bottom: .8mm; }
  .set caption, .crowded .when figcaption { display: none; }
  .crowded .week, .crowded .waters { zoom: .82; }
  .crowded .notes { columns: 3; column-gap: 4mm; }
  .crowded .notes p, .crowded .faults, .crowded .chance p { font-size: 7.6pt; }
  .close { font-size: 7.5pt; line-height: 1.25; }
  .close h1 { font-size: 13pt; }
  .close h2 { font-size: 9pt; margin: 1.2mm 0 .3mm; padding-top: .2mm; }
  .close .notes h2 { margin-top: 0; }
  .close li + li { margin-top: .3mm; }
  .close .faults, .close .advice { font-size: 7pt; }
  .close .advice li { max-width: none; }
  .close .lid { min-width: 5mm; height: 5mm; font-size: 10pt; outline: none; }
  .close .lid.small { min-width: 5.4mm; height: 5.4mm; }
  .close .set thead th { padding: 0 1mm; font-size: 7pt; }
  .close .set tbody th { padding: .5mm 1mm 0; gap: 2mm; }
  .close .set tbody td { padding: .4mm 1mm 0; }
  .close .set .why td { padding: 0 1mm .3mm; font-size: 6.8pt; line-height: 1.1; }
  .close .set .why td:first-child { padding-left: 8.5mm; }
  .close .set .name { font-size: 8.5pt; line-height: 1.1; max-height: 3.3em;
    overflow: hidden; }
  .close .set .days, .close .set .starts { font-size: 9.5pt; }
  .close .set td.minutes { font-size: 14pt; line-height: .9; }
  .close .set td.minutes small { font-size: 7pt; }
  .close .set tfoot th, .close .set tfoot td { padding: .5mm 1mm; font-size: 7.5pt; }
  .close .week { zoom: .74; }
  .close .when figcaption { display: none; }
  .close .names { font-size: 11px; }
  .close .waters { zoom: .72; grid-template-columns: repeat(4, 1fr); gap: 2mm 4mm; }
  .close .waters h3 { font-size: 13px; }
  .close .waters figcaption { font-size: 11px; }
  .close svg { font-size: 11px; }
  .close .changes th.setting, .close .changes .was { font-size: 7.5pt; }
  .close .changes .now { font-size: 9pt; }
  .close .figures .lid.small { min-width: 0; height: auto; border: none; font-size: inherit; }
  .close .figures th { white-space: nowrap; }
  .close .notes .figures th { white-space: normal; }
  .close .figures th bdi { display: inline-block; max-width: 16mm; overflow: hidden; text-overflow: ellipsis; vertical-align: top; }
  .close .leave li { font-size: 7pt; }
  .close .weather figure > svg { zoom: .72; }
  .close .weather figcaption { font-size: 7pt; line-height: 1.2; }
  .close .side { font-size: 9px; }
  .close .key, .close .notes p, .close .figures, .close caption { font-size: 7pt; line-height: 1.2; }
  .close .notes { columns: 3; column-gap: 4mm; }
  .close .notes section { padding-top: 1.2mm; }
  .close .notes p, .close .notes .figures { font-size: 6.6pt; line-height: 1.15; }
  .close.crowded .faults { font-size: 6.6pt; line-height: 1.15; }
  .close.crowded .mend li:nth-child(n+4) { display: none; }
  .close.crowded .set tbody th, .close.crowded .set tbody td { padding-top: .2mm; }
  .close.crowded .set tbody .why td { padding-top: 0; padding-bottom: .1mm; }
  .close.crowded .figures { font-size: 6.6pt; line-height: 1.15; }
  .close.crowded .set td.minutes { font-size: 12pt; }
  .close.crowded .week { zoom: .66; }
  .close.crowded .waters { zoom: .6; }
  .close.crowded .pair .figures caption { display: none; }
  .close.crowded .pair .figures { line-height: 1.05; }
  .close.crowded .changes .why td:first-child { padding-left: 2mm; font-size: 6.2pt; line-height: 1.05; }
  .close.crowded .pair .weather figure > svg { zoom: .5; }
  .close.crowded .pair .programme, .close.crowded .pair .weather tbody tr:not(.sum) { display: none; }
  .close.crowded .advice { font-size: 6.6pt; line-height: 1.15; }
  .close.crowded .set .name { max-height: 2.2em; }
  .close.crowded h1 { font-size: 11pt; }
  .close.crowded h2 { font-size: 8pt; margin-top: .8mm; }
  .close.crowded .waters figcaption { display: none; }
}
)";

}  // namespace runnel::cli::sheet
