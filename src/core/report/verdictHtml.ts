import { formatSource } from '../sources/source.ts';
import type { Assessment } from '../visit/assessment.ts';
import { verdictNumbers, verdictPlace } from './verdictNumbers.ts';
import { verdictSections } from './verdictSections.ts';
import { verdictBecause, verdictTitle } from './verdictTitle.ts';

const STYLE = `
@page { margin: 16mm; }
body { font: 11pt/1.45 system-ui, sans-serif; color: #1a1a1a; background: #fff; max-width: 46rem; margin: 2rem auto; padding: 0 1rem; }
h1 { font-size: 1.7rem; margin: 0 0 .2rem; }
h2 { font-size: 1rem; margin: 1.4rem 0 .3rem; }
p { margin: .2rem 0; }
table { border-collapse: collapse; margin-top: 1rem; }
th { text-align: right; font-weight: 600; padding: .1rem .9rem .1rem 0; white-space: nowrap; font-variant-numeric: tabular-nums; }
td { padding: .1rem 0; }
ul, ol { margin: 0; padding-left: 1.3rem; }
figure { display: inline-block; margin: .4rem .6rem .4rem 0; vertical-align: top; }
figure img { max-width: 20rem; max-height: 14rem; display: block; }
figcaption, small { color: #555; font-size: .8rem; overflow-wrap: anywhere; }
section { break-inside: avoid; }
@media (prefers-color-scheme: dark) { @media screen { body { background: #171717; color: #eee; } figcaption, small { color: #aaa; } } }
`;

export interface VerdictHtmlOptions {
  /** Where a photo can be seen, from its sha256; null shows its name alone. Default: names alone. */
  readonly photoHref?: (sha256: string) => string | null;
  /** Adds every rule with its source. */
  readonly explain?: boolean;
}

/** The verdict as one self-contained printable page: no scripts, nothing fetched but the photos named as evidence. */
export function verdictHtml(assessment: Assessment, options: VerdictHtmlOptions = {}): string {
  const title = verdictTitle(assessment.decision.verdict);
  const numbers = verdictNumbers(assessment)
    .map((line) => `<tr><th scope="row">${safe(line.value)}</th><td>${safe(line.what)}</td></tr>`)
    .join('');
  const sections = verdictSections(assessment)
    .map((section) => {
      const list = section.numbered ? 'ol' : 'ul';
      const lines = section.lines.map((line) => `<li>${safe(line)}</li>`).join('');
      return `<section><h2>${safe(section.title)}</h2><${list}>${lines}</${list}></section>`;
    })
    .join('\n');
  return `<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>${safe(`${title}: ${assessment.visit.field}`)}</title><style>${STYLE}</style></head>
<body>
<h1>${safe(title)}</h1>
<p>${safe(verdictBecause(assessment.decision))}</p>
<p>${safe(verdictPlace(assessment))}</p>
<table>${numbers}</table>
${sections}
${photos(assessment, options.photoHref ?? (() => null))}
${options.explain === true ? sources(assessment) : ''}
</body>
</html>
`;
}

function photos(assessment: Assessment, href: (sha256: string) => string | null): string {
  if (assessment.photos.length === 0) return '';
  const figures = assessment.photos.map((photo) => {
    const at = href(photo.sha256);
    const image = at === null ? '' : `<img src="${safe(at)}" alt="${safe(`Row photo of ${photo.spot}`)}">`;
    return `<figure>${image}<figcaption>${safe(`${photo.spot}: ${photo.file}`)}<br>sha256 ${safe(photo.sha256)}</figcaption></figure>`;
  });
  return `<section><h2>Photos</h2>${figures.join('')}</section>`;
}

function sources(assessment: Assessment): string {
  const lines = assessment.explained.map(
    (entry) => `<li>${safe(`${entry.topic}: ${entry.says}`)} <small>${safe(formatSource(entry.source))}</small></li>`,
  );
  return `<section><h2>Rules and sources</h2><ul>${lines.join('')}</ul></section>`;
}

function safe(text: string): string {
  const marks: Readonly<Record<string, string>> = {
    '&': '&amp;',
    '<': '&lt;',
    '>': '&gt;',
    '"': '&quot;',
    "'": '&#39;',
  };
  return text.replace(/[&<>"']/g, (mark) => marks[mark]!);
}
