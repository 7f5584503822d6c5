/**
 * The look of the HTML forms: one column of plain type, rules instead of boxes. Nothing is said by colour alone; on paper
 * rows stay together and headers return on every page.
 */
export const STYLE = `
:root { color-scheme: light; --ink: #1a1a1a; --soft: #595959; --rule: #b8b8b8; --ground: #fff; --mark: #f2efe6; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 2rem 1.5rem 4rem; max-width: 76rem; color: var(--ink); background: var(--ground);
  font: 1rem/1.5 "Source Sans 3", "Segoe UI", "Helvetica Neue", Arial, sans-serif; overflow-wrap: break-word; }
h1 { margin: 0 0 .5rem; font-size: 1.9rem; line-height: 1.2; }
h2 { margin: 2.5rem 0 .75rem; padding-bottom: .25rem; border-bottom: 2px solid var(--ink); font-size: 1.3rem; }
h3 { margin: 1.75rem 0 .5rem; font-size: 1.1rem; }
p, li { max-width: 70ch; }
.loud { font-weight: 700; font-size: 1.1rem; }
nav ul { display: flex; flex-wrap: wrap; gap: .25rem 1.25rem; padding: 0; list-style: none; }
a { color: inherit; text-underline-offset: .2em; }
a:focus-visible, .wide:focus-visible { outline: 3px solid var(--ink); outline-offset: 2px; }
dl { display: grid; grid-template-columns: repeat(auto-fill, minmax(20rem, 1fr)); gap: .25rem 2rem; margin: 1rem 0; }
dl div { display: flex; gap: .75rem; border-bottom: 1px solid var(--rule); padding: .15rem 0; }
dt { flex: none; min-width: 7rem; color: var(--soft); }
dd { margin: 0; min-width: 0; }
.wide { overflow-x: auto; margin: .75rem 0 1.25rem; }
figure { margin: .75rem 0 1.5rem; }
figure img { display: block; max-width: 100%; height: auto; }
figcaption { max-width: 70ch; margin-top: .35rem; color: var(--soft); }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; font-size: .95em; }
caption { text-align: left; color: var(--soft); padding-bottom: .35rem; }
th, td { padding: .35rem .75rem .35rem 0; text-align: left; vertical-align: top; border-bottom: 1px solid var(--rule); overflow-wrap: break-word; min-width: 4.5rem; }
thead th { border-bottom: 2px solid var(--ink); vertical-align: bottom; }
thead .prose { min-width: 9.5rem; }
.whole { white-space: nowrap; }
tbody th { font-weight: 600; white-space: nowrap; }
tbody th wbr { white-space: normal; }
td strong, th strong { white-space: nowrap; background: var(--mark); padding: 0 .25rem; border-left: 4px solid var(--ink); }
.blank td, .blank th { height: 2.6rem; }
.blank td:empty { min-width: 5.5rem; border-left: 1px solid var(--rule); }
@media (max-width: 75rem) {
  .blank { font-size: .85em; }
  .blank th, .blank td { min-width: 3.5rem; padding-right: .5rem; }
  thead .prose { min-width: 8rem; }
  .blank thead .prose { min-width: 7rem; }
  .blank td:empty { min-width: 4rem; }
}
@media print {
  @page { size: A4 landscape; margin: 14mm; }
  body { max-width: none; padding: 0; font-size: 9.5pt; }
  nav { display: none; }
  h2, h3 { break-after: avoid; }
  tr, figure { break-inside: avoid; }
  figure img { max-height: 165mm; }
  thead { display: table-header-group; }
  .wide { overflow: visible; }
  table, .blank { font-size: .95em; }
  th, td, .blank th, .blank td { min-width: 4.5em; padding-right: .6em; }
  thead .prose, .blank thead .prose { min-width: 11em; }
  .blank td:empty { min-width: 8em; }
  td strong, th strong { print-color-adjust: exact; }
}
`;
