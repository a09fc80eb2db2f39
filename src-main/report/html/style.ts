/** How the page looks, on screen as a sheet and on paper. */
import { brass, ink, inkQuiet, line, lineFaint, sunken, toneInk, toneTint } from '../palette.ts';
import type { Paper } from '../pdf/paper.ts';

const TONES = Object.keys(toneInk) as (keyof typeof toneInk)[];

/** @param head left and right of the running head, as CSS strings. */
export function styleSheet(paper: Paper, head: readonly [string, string], foot: string): string {
  const tones = TONES.map(
    (tone) =>
      `.${tone}{color:${toneInk[tone]}}tr.${tone}>*{background:${toneTint[tone]};color:${ink}}` +
      `.notice.${tone}{background:${toneTint[tone]};border-color:${toneInk[tone]};color:${ink}}.notice.${tone}>strong{color:${toneInk[tone]}}`,
  ).join('');
  return `
@page{size:${paper === 'a4' ? 'A4' : 'letter'};margin:22mm 16mm 20mm 20mm;
@top-left{content:${head[0]};font:7.8pt Plex;color:${inkQuiet}}@top-right{content:${head[1]};font:7.8pt Plex;color:${inkQuiet}}
@bottom-left{content:${foot};font:7.8pt Plex;color:${inkQuiet}}@bottom-right{content:counter(page) " / " counter(pages);font:7.8pt Plex;color:${inkQuiet}}}
*{box-sizing:border-box}
html{color-scheme:light;background:#dfe5e7}
body{margin:0;overflow-wrap:break-word;font:9.5pt/1.42 Plex,Symbols,"Segoe UI","Liberation Sans",sans-serif;color:${ink};-webkit-print-color-adjust:exact;print-color-adjust:exact}
main{width:${paper === 'a4' ? '210mm' : '8.5in'};max-width:100%;margin:24px auto;padding:16mm 16mm 18mm 18mm;background:#fff;box-shadow:0 1px 3px rgb(15 32 41/15%),0 8px 28px rgb(15 32 41/10%)}
.head>span,.foot>span{min-width:0}.head{display:flex;justify-content:space-between;gap:2em;color:${inkQuiet};font-size:8.2pt;border-bottom:.5pt solid ${line};padding-bottom:4pt;margin-bottom:14pt}
.foot{display:flex;justify-content:space-between;color:${inkQuiet};font-size:8.2pt;border-top:.5pt solid ${line};padding-top:4pt;margin-top:24pt}
h1{font-size:21pt;line-height:1.2;margin:0 0 6pt}
h2{font-size:13pt;line-height:1.25;margin:24pt 0 8pt;padding-bottom:4pt;border-bottom:.5pt solid ${line};position:relative;break-after:avoid}
h2::after{content:"";position:absolute;left:0;bottom:-1pt;width:28pt;border-bottom:1.5pt solid ${brass}}
h3{font-size:10.5pt;margin:14pt 0 5pt;break-after:avoid}
p{margin:0 0 7pt}.note{font-size:8.2pt;color:${inkQuiet}}
strong{font-weight:600}
ul{margin:0 0 7pt;padding:0;list-style:none}li{padding-left:12pt;margin-bottom:3.5pt}li::before{content:"–";float:left;margin-left:-12pt}
.notice{border-left:3.5pt solid;padding:8pt 10pt;margin:10pt 0;break-inside:avoid}.notice>strong{display:block;font-size:12pt}
dl{margin:6pt 0 8pt}dl.two{columns:2;column-gap:18pt}
dl>div{display:grid;grid-template-columns:minmax(7em,36%) 1fr;gap:8pt;border-bottom:.5pt solid ${lineFaint};padding:2.4pt 0;break-inside:avoid;align-items:baseline}
dl.two>div{grid-template-columns:42% 1fr}
dt{color:${inkQuiet};font-size:8.5pt}dd{margin:0;overflow-wrap:anywhere}
.scroll{overflow-x:auto;margin:10pt 0}
table{width:100%;border-collapse:collapse;font-size:8.2pt;line-height:1.3;font-variant-numeric:tabular-nums;border-bottom:.5pt solid ${lineFaint}}
caption{text-align:left;font-weight:600;font-size:9pt;padding-bottom:3pt}
thead{display:table-header-group}thead th{background:${sunken};border-top:.8pt solid ${ink};border-bottom:.5pt solid ${inkQuiet};font-weight:600;vertical-align:top}
th small{display:block;font-weight:400;font-size:inherit;color:${inkQuiet}}
th,td{padding:2.2pt 3.5pt;text-align:left;vertical-align:top}tbody>tr>*{border-top:.5pt solid ${lineFaint};font-weight:400}.cut{overflow-wrap:anywhere;min-width:9em}
.right{text-align:right}.fit{white-space:nowrap}tr{break-inside:avoid}tr.apart>*{font-weight:600;border-bottom:.5pt solid ${inkQuiet}}
figure{margin:10pt 0;break-inside:avoid}figure svg{display:block;max-width:100%;height:auto;font-family:Plex,Symbols,sans-serif}
figcaption{font-size:8.2pt;color:${inkQuiet};margin-top:4pt}
.columns{display:grid;gap:18pt;align-items:start;break-inside:avoid}.columns>div>:first-child{margin-top:0}
.signatures,.short{break-inside:avoid}p:has(+.signatures),p:has(+.scroll){break-after:avoid}
.signature{display:grid;grid-template-columns:7em repeat(3,1fr);gap:12pt;align-items:end;height:44pt;break-inside:avoid}
.signature span{border-top:.6pt solid ${ink};font-size:8.2pt;color:${inkQuiet};padding-top:2pt}.signature strong{padding-bottom:12pt}
${tones}
@media (max-width:640px){main{padding:16px}.columns{grid-template-columns:1fr!important}dl.two{columns:1}}
@media print{html{background:#fff}body{font-size:8.8pt;line-height:1.36}table{font-size:7.6pt}td,th{padding:1.9pt 3pt}figcaption,.note{font-size:7.6pt}main{width:auto;margin:0;padding:0;box-shadow:none}.head,.foot{display:none}.page{break-before:page}.scroll{overflow:visible}}
`.replaceAll('\n', '');
}
