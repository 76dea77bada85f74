/**
 * The page's style sheet: embedded in the file that is written, adopted as a sheet by the app. The one source of
 * how the handout looks. Everything hangs under `.handout`, so it disturbs nothing around it.
 */
export const HANDOUT_CSS = `
@page { margin: 11mm 13mm; }
.handout { max-width: 700px; margin: 0 auto; color: #1c1b19; background: #fff; font: 12px/1.36 sans-serif; }
.handout header { display: flex; justify-content: space-between; align-items: baseline; gap: 16px; border-bottom: 2px solid #1c1b19; padding-bottom: 3px; }
.handout h1 { font-size: 19px; line-height: 1.2; margin: 0; overflow-wrap: anywhere; }
.handout h2 { font-size: 12px; margin: 0 0 2px; }
.handout p { margin: 0; }
.handout .when { color: #55524c; text-align: right; flex: none; max-width: 45%; overflow-wrap: anywhere; }
.handout .answers { display: grid; grid-template-columns: 1fr; gap: 7px 18px; margin: 8px 0 6px; }
.handout .answers.several { grid-template-columns: 1fr 1fr; }
.handout .answer { border-left: 4px solid #1c1b19; padding-left: 9px; break-inside: avoid; }
.handout .answer h2 { font-size: 13px; overflow-wrap: anywhere; }
.handout .verdicts { display: flex; flex-wrap: wrap; gap: 0 14px; font-size: 14px; font-weight: bold; }
.handout .verdicts span { font-weight: normal; font-size: 11px; color: #55524c; }
.handout table { border-collapse: collapse; width: 100%; font-size: 11px; font-variant-numeric: tabular-nums; }
.handout th { text-align: left; border-bottom: 1px solid #8d8a82; padding: 1px 8px 1px 0; vertical-align: bottom; }
.handout td { border-bottom: 1px solid #d9d6cd; padding: 1px 8px 1px 0; vertical-align: top; overflow-wrap: anywhere; }
.handout .number { text-align: right; white-space: nowrap; }
.handout .comparisons { margin: 7px 0 5px; }
.handout .figure { margin: 0; overflow-x: auto; break-inside: avoid; }
.handout .figure svg { display: block; width: 100%; height: auto; min-width: 560px; }
.handout .below { display: grid; grid-template-columns: minmax(0, 5fr) minmax(0, 7fr); gap: 20px; margin-top: 4px; font-size: 10.5px; line-height: 1.3; }
.handout .below section + section { margin-top: 5px; }
.handout ul { margin: 0; padding-left: 13px; }
.handout .cautions { margin-top: 6px; border-top: 1px solid #8d8a82; padding-top: 3px; font-size: 10.5px; }
.handout .made { color: #55524c; font-size: 9.5px; overflow-wrap: anywhere; }
@media (max-width: 560px) {
  .handout .answers.several, .handout .below { grid-template-columns: 1fr; }
  .handout header { display: block; }
  .handout .when { text-align: left; max-width: none; }
}
`;
