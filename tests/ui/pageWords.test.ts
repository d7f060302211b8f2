import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { describe, expect, test } from 'vitest';
import { countText } from '../../src/core/count/countText.ts';
import { fittingHead } from '../../src/core/learning/judgeFindings.ts';
import { findMarked } from '../../src/core/reference/marks/findMarked.ts';
import { pageWords } from '../../src/ui/parts/pageWords.ts';

/** Folders whose texts can reach the page. */
const FOLDERS = ['src/core', 'src/worker', 'src/browser', 'src/ui'];
/** The one place that names what it takes out. */
const OWN = 'pageWords.ts';
const OPTION = /--[a-z]/;

/** Every text in a file's code, values left out as a number would stand there. */
function textsOf(path: string): string[] {
  const texts: string[] = [];
  const look = (node: ts.Node): void => {
    if (ts.isStringLiteralLike(node) || ts.isJsxText(node)) texts.push(node.text);
    if (ts.isTemplateExpression(node)) {
      texts.push(node.templateSpans.reduce((said, { literal }) => `${said}1${literal.text}`, node.head.text));
    }
    ts.forEachChild(node, look);
  };
  look(ts.createSourceFile(path, readFileSync(path, 'utf8'), ts.ScriptTarget.Latest, true));
  return texts;
}

const texts = FOLDERS.flatMap((folder) =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name) && !name.endsWith(OWN))
    .flatMap((name) => textsOf(join(folder, name)).map((text) => [join(folder, name), text] as const)),
);

/** No outside source: a page has no command line, so it names no option of one. */
describe('the page says it in its own words', () => {
  test('no text that can reach the page names an option once the page has said it', () => {
    expect(texts.length).toBeGreaterThan(1000);
    const said = texts.map(([path, text]) => [path, pageWords(text)] as const);
    expect(said.filter(([, text]) => OPTION.test(text))).toEqual([]);
  });

  test('hand marks: places by their readings', () => {
    const photo = { widthPx: 400, heightPx: 300, data: new Uint8Array(400 * 300 * 4) };
    const cues = { focalPx: null, heightM: 1.5, heightSdM: 0.25, heightGiven: false, gravity: null, rowWidthM: null };
    const refused = (...marks: readonly (readonly [number, number, number])[]) => {
      const found = findMarked(
        photo,
        marks.map(([xPx, yPx, readingM]) => ({ xPx, yPx, readingM })),
        cues,
      );
      if (found.kind !== 'none') throw new Error('these marks were to be refused');
      return pageWords(found.reason);
    };
    expect(refused([10, 10, 0])).toBe(
      'The hand marks give no scale: hand marks need two different readings at two places.',
    );
    expect(refused([10, 10, 0], [900, 10, 0.3048])).toBe(
      'The hand marks give no scale: the mark at 0.305 m lies outside the photo.',
    );
  });

  test('what is to be named is chosen from a list here', () => {
    const said =
      'it is not clearly a tape; say what it is (tape:in, tape:cm, rod:6ft, frame:1mx0.5m), or mark two readings';
    expect(pageWords(said)).toBe('it is not clearly a tape; say what it is, or mark two readings');
    const length = 'a length (2.00 m in view) is no list';
    expect(pageWords(length)).toBe(length);
  });

  test('what was learned has no id here', () => {
    const head = { id: '2026-11-20-0a1b2c3d', stock: { name: 'seedlings', version: '1.2' }, featureNames: [] };
    const fits = fittingHead(head as never, { name: 'seedlings', version: '1.3' });
    if (fits.ok) throw new Error('this head was not to fit');
    expect(pageWords(`Counted without what was learned on this farm: ${fits.found}. Learn anew.`)).toBe(
      'Counted without what was learned on this farm: it was learned with another detector. Learn anew.',
    );
  });

  test('a count without a row width', () => {
    const result = {
      count: { value: 3, low: 2, high: 4, level: 0.9 },
      stretch: { fromM: 0, toM: 1, lengthM: 1 },
      plants: [],
      gaps: [],
      spacing: null,
      population: null,
      reference: { reason: null, alongErrorMm: null },
      warnings: [],
    };
    const lines = countText(result as never, 'metric').map(pageWords);
    expect(lines).toContain('population: cannot tell, because the row width is not given');
  });
});
