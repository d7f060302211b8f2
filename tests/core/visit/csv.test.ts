import { describe, expect, it } from 'vitest';
import { countsFromCsv } from '../../../src/core/visit/countsFromCsv.ts';
import { weatherFromCsv } from '../../../src/core/visit/weatherFromCsv.ts';

describe('countsFromCsv', () => {
  it('reads rows, hoops and quadrats, several counts to a spot', () => {
    const read = countsFromCsv(
      [
        'Spot,Kind,Plants,Length,Width,Diameter,Gaps,Zone,Latitude,Longitude,Note',
        '1,rows,71 74,17 ft 5 in,,,26 in; 31 in,flat,47.5,-97.1,"by the pole, north"',
        '1,rows,69,"2\'6""",,,,flat,,,',
        '2,hoop,7,,,30 in,,knoll,,,',
        '3,,12,1 m,0.5 m,,,,,,',
        '',
      ].join('\n'),
    );
    expect(read).toEqual({
      ok: true,
      value: [
        {
          id: 'spot-1',
          zoneId: 'flat',
          position: [47.5, -97.1],
          note: 'by the pole, north',
          counts: [
            { id: 'spot-1-count-1', kind: 'rows', length: '17 ft 5 in', plants: [71, 74], gaps: ['26 in', '31 in'] },
            { id: 'spot-1-count-2', kind: 'rows', length: '2\'6"', plants: [69] },
          ],
        },
        {
          id: 'spot-2',
          zoneId: 'knoll',
          counts: [{ id: 'spot-2-count-1', kind: 'hoop', insideDiameter: '30 in', plants: 7 }],
        },
        {
          id: 'spot-3',
          counts: [{ id: 'spot-3-count-1', kind: 'quadrat', width: '0.5 m', length: '1 m', plants: 12 }],
        },
      ],
    });
  });

  it('takes semicolons and tabs, a byte order mark and carriage returns', () => {
    for (const part of [';', '\t']) {
      const text = `\uFEFF${['spot', 'plants', 'length'].join(part)}\r\n${['1', '50', '10 ft'].join(part)}\r\n`;
      expect(countsFromCsv(text)).toMatchObject({ ok: true, value: [{ id: 'spot-1' }] });
    }
  });

  it.each([
    ['', 'an empty table'],
    ['spot,plants\n', 'no counts'],
    ['spot,plantz\n1,3', 'unknown columns "plantz" and no column "plants"'],
    ['spot,plants,length\n1,3.5,10 ft', 'line 2: plants "3.5"'],
    ['spot,plants,length\n1,-3,10 ft', 'line 2: plants "-3"'],
    ['spot,plants,length\n1,30,10', 'line 2: length'],
    ['spot,plants,length\n1,30,0 ft', 'line 2: length "0 ft"'],
    ['spot,plants,length\n1,30,', 'line 2: no length'],
    ['spot,kind,plants\n1,net,30', 'line 2: kind "net"'],
    ['spot,plants,diameter\n1,3 4,30 in', 'line 2: plants "3 4"'],
    ['spot,plants,length\n,30,10 ft', 'line 2: no spot'],
    ['spot,plants,length,latitude,longitude\n1,30,10 ft,north,3', 'line 2: latitude'],
  ])('refuses %j with the place', (text, found) => {
    const read = countsFromCsv(text);
    expect(read.ok ? 'accepted' : read.found).toContain(found);
  });
});

describe('weatherFromCsv', () => {
  it('takes the unit from the column or from the cell', () => {
    expect(weatherFromCsv('date,min_f,max_f,medium\n2026-06-01,50,68,soil')).toEqual({
      ok: true,
      value: [{ on: '2026-06-01', minimum: '50 F', maximum: '68 F', medium: 'soil' }],
    });
    expect(weatherFromCsv('date,min,max,medium,rain\n2026-06-01,10 C,20 C,air,12 mm')).toMatchObject({
      ok: true,
      value: [{ minimum: '10 C', rain: '12 mm' }],
    });
  });

  it('where no column says soil or air, the person who brings the table does', () => {
    const table = 'date,min_c,max_c\n2026-06-01,10,20';
    expect(weatherFromCsv(table, 'air')).toMatchObject({ ok: true, value: [{ medium: 'air' }] });
    expect(weatherFromCsv(table)).toMatchObject({ ok: false });
    const both = 'date,min_c,max_c,medium\n2026-06-01,10,20,soil\n2026-06-02,10,20,';
    expect(weatherFromCsv(both, 'air')).toMatchObject({ ok: false, found: 'line 3: medium ""' });
  });

  it.each([
    ['date,min,max,medium\n2026-06-01,10,20,air', 'line 2: min "10"'],
    ['date,min_c,max_c,medium\n1 June,10,20,air', 'line 2: date "1 June"'],
    ['date,min_c,max_c,medium\n2026-06-01,10,20,', 'line 2: medium ""'],
    ['date,min_c,medium\n2026-06-01,10,soil', 'line 2: no max'],
  ])('refuses %j', (text, found) => {
    const read = weatherFromCsv(text);
    expect(read.ok ? 'accepted' : read.found).toContain(found);
  });
});
