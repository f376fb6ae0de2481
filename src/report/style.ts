/** Named colours, light and dark: the report and the workbench share them. */
export const COLOURS = `
:root{--paper:#fcfbf8;--ink:#1d2430;--soft:#566070;--rule:#d5d3cb;--tint:#f1efe8;--accent:#1f4e79;
--reversed:#6b3f8f;--play:#b4bcc7;--light:#8fc3de;--target:#2a7a54;--heavy:#ecb64a;--bind:#b2372c;--scrap:#5b6675;--service:#7c2450;
--on-dark:#fff;--on-light:#14181f;--hatch:rgba(20,24,31,.42);--hatch-pale:rgba(255,255,255,.5);
--band:#cfe6d8;--bar:#b9c9dc;--bar-edge:#3f6a99;--line-low:#9a4a12;--line-high:#5b2c83}
@media screen and (prefers-color-scheme:dark){:root{--paper:#14181e;--ink:#e7e9ec;--soft:#a5afbc;--rule:#3a424d;--tint:#1d232b;--accent:#8fbce8;
--reversed:#8a5cb3;--play:#8d98a7;--light:#6fb0d2;--target:#2f8f62;--heavy:#d9a136;--bind:#c54a3e;--scrap:#66758a;--service:#a23a70;
--hatch:rgba(8,10,14,.45);--band:#1f4635;--bar:#3b5573;--bar-edge:#86b2e0;--line-low:#f0a35c;--line-high:#c79bf0}}
`;

/** The style of the report: light, dark and paper from one set of named colours. */
export const STYLE = `${COLOURS}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0;background:var(--paper);color:var(--ink);font:16px/1.55 system-ui,-apple-system,"Segoe UI",Roboto,"Noto Sans",sans-serif}
main,footer{max-width:860px;margin:0 auto;padding:0 20px}
main{padding-top:40px}
h1,h2{font-family:"Iowan Old Style","Palatino Linotype",Palatino,"Book Antiqua",Georgia,serif;font-weight:600;line-height:1.2;text-wrap:balance;overflow-wrap:anywhere}
h1{font-size:2.2rem;margin:.15em 0 .3em}
h2{font-size:1.45rem;margin:2.6em 0 .7em;padding-top:.7em;border-top:1px solid var(--rule)}
h3{font-size:1.05rem;margin:1.6em 0 .5em;line-height:1.3}
p,li,figcaption{overflow-wrap:anywhere}
td,th{overflow-wrap:break-word}
.hash{overflow-wrap:anywhere}
.maker{margin:0;color:var(--soft);font-size:.86rem}
.description{margin:0;color:var(--soft);max-width:64ch}
.verdict{margin:1.8em 0 2em;max-width:70ch}
.verdict p{margin:0 0 .8em}
.verdict .lead{font-size:1.28rem;line-height:1.5;border-left:4px solid var(--accent);padding-left:.8em}
.block{display:flex;flex-wrap:wrap;gap:1px;border:1.5px solid var(--ink);background:var(--rule);font-variant-numeric:tabular-nums}
.cell{flex:1 1 30%;padding:.65em .85em .75em;background:var(--paper);min-width:0}
.cell.main{flex-basis:45%}
.cell span{display:block}
.cell .label{font-size:.78rem;color:var(--soft);letter-spacing:.01em}
.cell .value{font-size:1.12rem;font-weight:650;line-height:1.35}
.cell.main .value{font-size:1.75rem;line-height:1.25}
.cell .note{font-size:.82rem;color:var(--soft);line-height:1.4}
.cell.callout{flex-basis:100%;background:var(--tint)}
.callouts{border:1.5px solid var(--ink);background:var(--tint);padding:.2em 1em .8em;margin:0 0 2.6em}
.callouts h3{margin:.8em 0 .4em}
.callouts pre{white-space:pre-wrap;overflow-wrap:anywhere;margin:0;font:inherit;font-size:.92rem;font-variant-numeric:tabular-nums;user-select:all;-webkit-user-select:all;line-height:1.6}
.callouts pre:focus-visible{outline:2px solid var(--accent);outline-offset:2px}
.copy{margin:.7em 0 0;font-size:.88rem;color:var(--soft)}
.copy button{font:inherit;color:var(--ink);background:var(--paper);border:1px solid var(--soft);border-radius:4px;padding:.35em .9em;min-height:2.4em;cursor:pointer}
.copy button:focus-visible{outline:3px solid var(--accent);outline-offset:2px}
.hatches{position:absolute}
figure{margin:0 0 2.6em}
figure h3{margin:1.4em 0 .3em}
figure svg{display:block;width:100%;height:auto;overflow:visible}
svg text{font-family:system-ui,-apple-system,"Segoe UI",Roboto,"Noto Sans",sans-serif;font-variant-numeric:tabular-nums;paint-order:stroke}
.narrow{display:none}
figcaption{font-size:.9rem;margin-top:.5em;max-width:78ch}
figcaption p{margin:0 0 .35em}
figcaption .drawn{color:var(--soft);font-size:.95em}
.legend{list-style:none;display:flex;flex-wrap:wrap;gap:.25em 1.3em;margin:.2em 0 .7em;padding:0;font-size:.88rem}
.legend li{display:inline-flex;align-items:center;gap:.5em}
.legend .swatch{flex:none;width:auto;height:14px}
details{margin-top:.5em;font-size:.9rem}
summary{cursor:pointer;color:var(--accent)}
summary:focus-visible,.scroll:focus-visible{outline:2px solid var(--accent);outline-offset:2px}
.scroll{overflow-x:auto;margin:.5em 0 1em}
.tall{max-height:34rem;overflow:auto;border-bottom:1px solid var(--rule)}
.tall thead th{position:sticky;top:0;background:var(--paper);box-shadow:inset 0 -1px var(--ink)}
table{border-collapse:collapse;width:100%;font-size:.88rem;line-height:1.4;font-variant-numeric:tabular-nums}
th,td{padding:.42em .9em .42em 0;border-bottom:1px solid var(--rule);vertical-align:top;text-align:left;font-weight:400}
thead th{color:var(--soft);font-size:.82rem;border-bottom-color:var(--ink);vertical-align:bottom}
.number{text-align:right;white-space:nowrap}
thead .number{white-space:normal}
tbody .text{min-width:8em}
code{overflow-wrap:anywhere;font:.86em/1.4 ui-monospace,"Cascadia Mono",Menlo,Consolas,monospace;color:var(--soft)}
footer{margin-top:3em;padding-bottom:2.5em;color:var(--soft);font-size:.82rem;overflow-wrap:anywhere}
@media screen and (max-width:640px){
main,footer{padding-left:16px;padding-right:16px}
main{padding-top:22px}
h1{font-size:1.7rem}
.verdict .lead{font-size:1.12rem}
.wide{display:none}.narrow{display:block}
.cell{flex-basis:42%}
.cell.main .value{font-size:1.4rem}
}
@media print{
:root{--paper:#fff;--ink:#000;--soft:#333;--rule:#bbb;--tint:#fff;--accent:#000}
@page{margin:16mm 15mm}
html{font-size:10.5pt}
body{font-size:10pt;-webkit-print-color-adjust:exact;print-color-adjust:exact}
main,footer{max-width:none;padding:0}
h1,h2,h3,.legend{break-after:avoid}
figure,.block,.cell,.callouts,tr,li,.verdict p{break-inside:avoid}
.copy{display:none}
thead{display:table-header-group}
.scroll{overflow:visible;max-height:none}
.tall thead th{position:static}
details{display:none}
figure{margin-bottom:1.5em}
figure .wide svg{width:78%}
figcaption,.legend{font-size:8.5pt;line-height:1.4}
h2{margin-top:1.8em}
table{font-size:8.5pt}
tbody .text{min-width:0}
tbody th.text{min-width:11em}
}
`;
