import { describe, expect, it } from 'vitest';
import { explainPage } from '../../../src/core/report/explainPage.ts';
import { verdictHtml } from '../../../src/core/report/verdictHtml.ts';
import { verdictPage } from '../../../src/core/report/verdictPage.ts';
import { assessVisit } from '../../../src/core/visit/assessVisit.ts';
import { DEMO_VISITS } from '../../../src/core/visit/demo/demoVisits.ts';
import { riverEighty } from '../../../src/core/visit/demo/riverEighty.ts';
import { upperTerrace } from '../../../src/core/visit/demo/upperTerrace.ts';
import { windmillEighty } from '../../../src/core/visit/demo/windmillEighty.ts';

describe('verdictPage', () => {
  it.each(DEMO_VISITS.map((visit) => [visit.field.name, visit] as const))(
    '%s opens with the verdict and says what to mind',
    (_n, visit) => {
      const page = verdictPage(assessVisit(visit));
      const [title] = page.split('\n');
      expect(title).toMatch(/^(KEEP|WAIT AND RECOUNT BY|COST OUT A REPLANT|TOO FEW SPOTS TO SAY)/);
      expect(page).toContain('\nWhy\n1. ');
      expect(page).toContain('What would change it');
      expect(page).toContain('Your local agronomist');
      expect(page).not.toMatch(/NaN|undefined|null|Infinity/);
      expect(page.split('\n').find((line) => line.length > 220)).toBeUndefined();
    },
  );

  it('is in the units of the document', () => {
    expect(verdictPage(assessVisit(windmillEighty))).toContain('plants/ac');
    const metric = verdictPage(assessVisit(upperTerrace));
    expect(metric).toContain('plants/ha');
    expect(metric).not.toContain('/ac');
  });

  it('warns of the adjuster before an insured stand is destroyed', () => {
    expect(verdictPage(assessVisit(riverEighty))).toContain('adjuster');
  });

  it('shows the first impression of the people', () => {
    expect(verdictPage(assessVisit(riverEighty))).toContain('Marit Solheim, 2026-06-08: wait, "Maybe more will come."');
  });
});

describe('explainPage', () => {
  it('ends every line with who says so', () => {
    const page = explainPage(assessVisit(riverEighty));
    const lines = page.split('\n').filter((line) => line.startsWith('- '));
    const sources = page.split('\n').filter((line) => line.startsWith('    '));
    expect(lines.length).toBeGreaterThan(20);
    expect(sources.length).toBe(lines.length);
    expect(page).toContain('NDSU Crop & Pest Report, 16 May 2002');
    expect(page).toContain('common practice, no source');
  });
});

describe('verdictHtml', () => {
  it('is one page that fetches nothing', () => {
    const html = verdictHtml(assessVisit(riverEighty), { explain: true });
    expect(html).toMatch(/^<!doctype html>/);
    expect(html).not.toMatch(/<script|<link|url\(|@import|<img/);
    expect(html).toContain('Rules and sources');
  });

  it('shows a photo only where the caller says it can be seen', () => {
    const made = { ...assessVisit(windmillEighty), photos: [{ file: 'row.jpg', sha256: 'ab12', spot: 'spot-1' }] };
    expect(verdictHtml(made)).not.toContain('<img');
    expect(verdictHtml(made)).toContain('ab12');
    expect(verdictHtml(made, { photoHref: (sha256) => `/photos/${sha256}` })).toContain('<img src="/photos/ab12"');
  });

  it('lets no text of the document become markup', () => {
    const evil = { ...windmillEighty, field: { ...windmillEighty.field, name: '<img src=x onerror=alert(1)>"&' } };
    const html = verdictHtml(assessVisit(evil));
    expect(html).not.toContain('<img src=x');
    expect(html).toContain('&lt;img src=x onerror=alert(1)&gt;&quot;&amp;');
  });
});
