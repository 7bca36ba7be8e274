import { type FontSubset, type FontWeight, loadFont } from '../assets/loadFonts.ts';

const ranges: readonly (readonly [FontSubset, string])[] = [
  [
    'latin-ext',
    'U+0100-02BA,U+02BD-02C5,U+02C7-02CC,U+02CE-02D7,U+02DD-02FF,U+1D00-1DBF,U+1E00-1E9F,U+1EF2-1EFF,U+2020,' +
      'U+20A0-20AB,U+20AD-20C0,U+2113,U+2C60-2C7F,U+A720-A7FF',
  ],
  ['latin', 'U+0000-00FF,U+0131,U+0152-0153,U+02BB-02BC,U+02C6,U+02DA,U+02DC,U+2000-206F,U+20AC,U+2122,U+2212,U+2215'],
];
const weights: readonly FontWeight[] = [400, 600];

/** The whole style of the report, type included, so that the page needs nothing else. */
export function reportStyle(): string {
  return `${fontFaces()}\n${rules}`;
}

function fontFaces(): string {
  return ranges
    .flatMap(([subset, range]) =>
      weights.map((weight) => {
        const data = loadFont(subset, weight, 'woff2').toString('base64');
        return (
          `@font-face{font-family:"Source Sans 3";font-style:normal;font-weight:${weight};font-display:block;` +
          `src:url(data:font/woff2;base64,${data}) format("woff2");unicode-range:${range}}`
        );
      }),
    )
    .join('\n');
}

const rules = `
:root{color-scheme:light dark;--text:#172331;--quiet:#5b6570;--faint:#d3d6d2;--table:#fbfbf8;--ground:#f1f2ee}
@media (prefers-color-scheme:dark){
  :root{--text:#dfe3e4;--quiet:#9aa3a8;--faint:#3a4146;--table:#1c2125;--ground:#14181b}
}
*{box-sizing:border-box}
html{background:var(--ground);-webkit-text-size-adjust:100%}
body{margin:0 auto;max-width:960px;padding:40px 32px 64px;background:var(--table);color:var(--text);
  font:400 16px/1.45 "Source Sans 3",system-ui,sans-serif;font-variant-numeric:tabular-nums lining-nums;
  overflow-wrap:anywhere;-webkit-print-color-adjust:exact;print-color-adjust:exact}
h1,h2,h3,h4,p,dl,dd,ul,ol,figure,table{margin:0;padding:0}
ul,ol{list-style:none}
h2{font-size:25px;line-height:1.2;font-weight:600;margin:56px 0 4px;padding-top:14px;border-top:1.5px solid var(--text)}
h3{font-size:15px;font-weight:600;color:var(--quiet);margin:28px 0 0}
h4,.finding h3{font-size:19px;line-height:1.25;font-weight:600;color:inherit;margin:0}
a{color:inherit;text-decoration-color:var(--quiet);text-underline-offset:3px}
a:focus-visible{outline:2px solid var(--text);outline-offset:2px}
svg text{font-family:"Source Sans 3",system-ui,sans-serif;font-variant-numeric:tabular-nums}
.q{white-space:nowrap}
.quiet{color:var(--quiet)}
.lead{max-width:62ch}
.verdict{display:flex;align-items:center;gap:16px}
.verdict .sign{width:60px;height:60px;flex:none}
.verdict h1{font-size:46px;line-height:1.05;font-weight:600;letter-spacing:-.01em}
.job{font-size:21px;margin-top:10px}
.sums{margin-top:2px;color:var(--quiet)}
.sums a{white-space:nowrap}
.front{display:grid;grid-template-columns:minmax(0,1.06fr) minmax(0,1fr);gap:36px;margin-top:28px;align-items:start}
.shirt{padding:9% 12%;line-height:0}
.shirt img{width:100%;height:auto}
figcaption{font-size:13.5px;line-height:1.35;color:var(--quiet);margin-top:6px}
.facts{display:grid;grid-template-columns:max-content minmax(0,1fr);gap:5px 18px;font-size:15.5px}
.facts dt{color:var(--quiet)}
.slips{display:grid;grid-template-columns:repeat(auto-fill,minmax(132px,1fr));gap:22px 20px;margin-top:32px}
.slip{break-inside:avoid;min-width:0}
.film{background:#fafaf4;border:1px solid #b9bdb9;height:150px;display:flex;align-items:center;justify-content:center;padding:6px}
.film img{max-width:100%;max-height:100%;display:block}
.slip p{font-size:13.5px;line-height:1.35;color:var(--quiet)}
.slip .name{display:flex;gap:8px;align-items:baseline;margin-top:8px;font-size:15.5px;font-weight:600;line-height:1.25;color:var(--text)}
.slip .swatch{align-self:flex-start;margin-top:3px}
.summary{margin-top:20px;padding-top:6px;border-top:1px solid var(--faint)}
.summary p{font-weight:600;margin-top:8px}
.summary li{font-size:14.5px;line-height:1.35;margin-top:3px}
.summary a{text-decoration:none}
.summary a:hover{text-decoration:underline}
.swatch{flex:none;display:inline-block;width:13px;height:13px;border:1px solid var(--quiet);align-self:center}
.ink{display:inline-block;max-width:100%}.ink .swatch{vertical-align:-1px;margin-right:6px}
.inks{display:flex;flex-wrap:wrap;gap:1px 16px;margin-top:3px}
.finding{margin-top:20px;padding-top:16px;border-top:1px solid var(--faint)}
h3+.finding{margin-top:6px}
.claim{display:grid;grid-template-columns:minmax(0,1fr) 286px;gap:8px 32px;align-items:start;break-inside:avoid}
.claim p{margin-top:3px}
.strip{display:block;width:286px;height:auto;max-width:100%}
.strip.small{width:168px}
.shown{display:flex;flex-wrap:wrap;gap:16px 15px;margin-top:14px}
.shown figure{width:42mm;break-inside:avoid}
.shown.marks figure{width:34mm}
.shown svg{display:block;max-width:100%}
.shown .map svg{width:auto;height:auto;max-height:42mm;max-width:100%}
.shown .map.alone svg{max-height:27mm}
.art{image-rendering:pixelated}
.advice{display:grid;grid-template-columns:1fr 1fr;gap:8px 32px;margin-top:14px;break-inside:avoid}
.advice dt{font-size:13.5px;color:var(--quiet)}
.advice dd{max-width:54ch}
table{border-collapse:collapse;width:100%;margin-top:14px;font-size:14.5px;line-height:1.35}
th{font-weight:400;text-align:left;color:var(--quiet);font-size:13.5px;vertical-align:bottom}
bdi{overflow-wrap:anywhere}
td,th{overflow-wrap:break-word;padding:6px 14px 6px 0;border-bottom:1px solid var(--faint);vertical-align:top}
td:last-child,th:last-child{padding-right:0}
tr{break-inside:avoid}
tbody th{color:inherit;font-size:inherit;vertical-align:top}
.n{text-align:right;white-space:nowrap}
td .strip{margin-top:-2px}
.from{white-space:nowrap}
details{margin-top:24px}
summary{cursor:pointer;font-weight:600;min-height:44px;padding:10px 0}
summary:focus-visible{outline:2px solid var(--text);outline-offset:2px}
.met{margin-top:8px;font-size:14.5px;line-height:1.35}
.tops{width:auto}
.aside{margin-top:14px}
.list{margin-top:12px}
.list dt{font-weight:600;margin-top:10px}
.list dd{max-width:72ch}
.notes{margin-top:12px;max-width:72ch}
.notes li{padding-left:16px;text-indent:-16px;margin-top:4px}
.notes li::before{content:"–";display:inline-block;width:16px;text-indent:0}
.hash{font-size:12.5px;color:var(--quiet);word-break:break-all}
footer{margin-top:40px;padding-top:12px;border-top:1px solid var(--faint);font-size:13.5px;color:var(--quiet)}
@media (max-width:720px){
  body{padding:24px 18px 48px}
  .front,.claim,.advice{grid-template-columns:minmax(0,1fr)}
  .verdict h1{font-size:36px}
  .scroll{overflow-x:auto}
}
@media print{
  @page{size:auto;margin:15mm 15mm 17mm}
  :root{--text:#172331;--quiet:#5b6570;--faint:#d3d6d2;--table:#ffffff;--ground:#ffffff}
  html,body{background:#fff}
  body{max-width:none;padding:0;font-size:10.5pt}
  h2,h3,h4,dt,.lead{break-after:avoid}
  h2{margin-top:30px}
  h3+.finding,h3+.finding .claim{break-before:avoid}
  .shown,.claim{break-after:auto}
  p,dd,li{orphans:3;widows:3}
  thead{display:table-header-group}
  details::details-content{content-visibility:visible;display:block;height:auto}
  a{text-decoration:none}
  .finding{break-inside:avoid}
  .verdict .sign{width:13mm;height:13mm}
  .verdict h1{font-size:32pt}
  .front{grid-template-columns:72mm minmax(0,1fr);gap:9mm;margin-top:6mm;break-inside:avoid}
  .facts{font-size:10pt;gap:1px 14px}
  .summary{margin-top:10px}
  .summary li{font-size:9.5pt;margin-top:1px}
  .slips{grid-template-columns:repeat(auto-fill,minmax(30mm,1fr));gap:5mm;margin-top:7mm}
  .film{height:34mm}
  .slip p,figcaption,th{font-size:9pt}
  .shown{gap:4mm}
  table{font-size:9.5pt}
  .strip{width:66mm}.strip.small{width:32mm}
  .claim{grid-template-columns:minmax(0,1fr) 66mm}
  .readings{display:none}
}`;
