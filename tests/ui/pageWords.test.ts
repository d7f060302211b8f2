import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { describe, expect, test } from 'vitest';
import { countLines } from '../../src/core/count/countLines.ts';
import { readHeads } from '../../src/core/learning/headsDocument.ts';
import { fittingHead } from '../../src/core/learning/judgeFindings.ts';
import { findMarked } from '../../src/core/reference/marks/findMarked.ts';
import { lineOfMarks } from '../../src/core/reference/marks/lineOfMarks.ts';
import { PAGE_CODES, pageRefusal, pageWords } from '../../src/ui/parts/pageWords.ts';

/** Folders whose texts can reach the page. */
const FOLDERS = ['src/core', 'src/worker', 'src/browser', 'src/ui'];
/** An option of the command line, or how it names what lies beside the row. */
const TYPED = /--[a-z]|\((tape|rod|frame):/;

interface Text {
  readonly said: string;
  /** Texts in the same call or record, its code among them. */
  readonly beside: readonly string[];
}

/** Every text in a file's code, values left out as a number would stand there. */
function textsOf(path: string): Text[] {
  const texts: Text[] = [];
  const near = (node: ts.Node): string[] => {
    const around = ts.findAncestor(node, (one) => ts.isCallExpression(one) || ts.isObjectLiteralExpression(one));
    const found: string[] = [];
    const gather = (one: ts.Node): void => {
      if (ts.isStringLiteralLike(one)) found.push(one.text);
      ts.forEachChild(one, gather);
    };
    if (around !== undefined) gather(around);
    return found;
  };
  const look = (node: ts.Node): void => {
    if (ts.isStringLiteralLike(node) || ts.isJsxText(node)) texts.push({ said: node.text, beside: near(node) });
    if (ts.isTemplateExpression(node)) {
      const said = node.templateSpans.reduce((text, { literal }) => `${text}1${literal.text}`, node.head.text);
      texts.push({ said, beside: near(node) });
    }
    ts.forEachChild(node, look);
  };
  look(ts.createSourceFile(path, readFileSync(path, 'utf8'), ts.ScriptTarget.Latest, true));
  return texts;
}

const texts = FOLDERS.flatMap((folder) =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .flatMap((name) => textsOf(join(folder, name)).map((text) => ({ path: join(folder, name), ...text }))),
);

/** No outside source: a page has no command line, so it names no option of one. */
describe('the page says it in its own words', () => {
  test('a text that names what is typed at a command line has a code that the page words itself', () => {
    expect(texts.length).toBeGreaterThan(1000);
    const typed = texts.filter(({ said }) => TYPED.test(said));
    expect(typed.length).toBeGreaterThan(2);
    expect(typed.filter(({ beside }) => !beside.some((text) => PAGE_CODES.includes(text)))).toEqual([]);
  });

  test('no word of the page itself names what is typed at a command line', () => {
    const values = { readingM: 1, lengthM: 2, cards: '', tape: '', tapeCode: 'unclear-tape', why: 'other features' };
    for (const code of PAGE_CODES) {
      const said = pageWords({ code, message: 'as it comes', values });
      expect(said).not.toBe('as it comes');
      expect(said).not.toMatch(TYPED);
    }
    // Warnings of early versions have their codes, and no values.
    for (const code of ['mark-left-out', 'marks-disagree', 'head-left-out']) {
      expect(pageWords({ code, message: 'as it comes' })).not.toMatch(/undefined|NaN|as it comes/);
    }
    expect(pageWords({ code: 'far-end-coarse', message: 'as it comes' })).toBe('as it comes');
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
      return pageWords({ code: found.code ?? '', message: found.reason, values: found.values ?? {} });
    };
    expect(refused([10, 10, 0])).toBe(
      'The hand marks give no scale: hand marks need two different readings at two places.',
    );
    expect(refused([10, 10, 0], [900, 10, 0.3048])).toBe(
      'The hand marks give no scale: the mark at 0.305 m lies outside the photo.',
    );
  });

  test('a mark left out, by its reading', () => {
    const at = [0, 1, 2, 3, 4].map((k) => ({ xPx: 50 + 60 * k, yPx: 100, readingM: 0.3 * k }));
    const line = lineOfMarks(
      at.map((mark, k) => (k === 2 ? { ...mark, yPx: 190 } : mark)),
      400,
      300,
    );
    expect(line.warnings.map(pageWords)).toEqual([
      'The mark at 0.600 m does not fit the others and was left out: check its place and reading.',
    ]);
  });

  test('what is to be named is chosen from a list here', () => {
    const tape = 'it is not clearly a tape; say what it is (tape:in, tape:cm), or mark two readings by hand';
    const values = { cards: 'no card was found.', tape, tapeCode: 'unclear-tape' };
    expect(pageWords({ code: 'no-cards-no-tape', message: tape, values })).toMatch(
      /^Looked for .+ Cards: no card was found\. Tape: .+ not clearly a tape; say what it is, or mark two readings by hand\. /,
    );
  });

  test('what was learned has no id here', () => {
    const head = { id: '2026-11-20-0a1b2c3d', stock: { name: 'seedlings', version: '1.2' }, featureNames: [] };
    const fits = fittingHead(head as never, { name: 'seedlings', version: '1.3' });
    if (fits.ok) throw new Error('this head was not to fit');
    expect(pageWords({ code: 'head-left-out', message: fits.found, values: { why: fits.code } })).toBe(
      'Counted without what was learned on this farm: it was learned with another detector. Learn anew.',
    );
    const changes = [{ id: 'c1', at: '2026-11-20T10:00:00Z', by: 'Ann', inUse: '2026-11-20-0a1b2c3d' }];
    const shelf = readHeads({ schema: 'rowledger/heads@1', heads: [], changes });
    if (shelf.ok) throw new Error('these heads were not to be read');
    expect(pageRefusal(shelf)).toMatch(/^What was learned here .+ not there\. Use the stock detector/);
    expect(pageRefusal({ ...shelf, code: 'not heads' })).toMatch(/; wanted: /);
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
    const lines = countLines(result as never, 'metric').map(pageWords);
    expect(lines).toContain('population: cannot tell, because the row width is not given');
  });
});
