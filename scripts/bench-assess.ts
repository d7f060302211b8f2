/**
 * How long the engine takes over one visit of 10,000 spots: the first call in a fresh process, then warm ones, and the
 * same for a visit of 10 spots. Seeded: two runs assess the same. Bar: 200 ms.
 *
 *   npx tsx scripts/bench-assess.ts [spots]
 */
import { cpus } from 'node:os';
import { performance } from 'node:perf_hooks';
import { drawPoisson } from '../src/core/statistics/draw.ts';
import { seededRandom } from '../src/core/statistics/seededRandom.ts';
import { assessVisit } from '../src/core/visit/assessVisit.ts';
import { readVisit } from '../src/core/visit/readVisit.ts';
import type { VisitDocument } from '../src/core/visit/visitSchema.ts';

const SPOTS = Number(process.argv[2] ?? 10_000);
const REPEATS = 11;

function visitOf(spots: number): VisitDocument {
  const random = seededRandom(20_261_125);
  const read = readVisit({
    schema: 'rowledger/visit@2',
    id: 'bench',
    visitedOn: '2026-06-18',
    units: 'imperial',
    people: [{ id: 'ada', name: 'Ada Lind' }],
    farm: { id: 'farm', name: 'Hollow Elm Farm' },
    field: { id: 'field', name: 'Ridge Forty', area: '40 ac' },
    season: 2026,
    planting: {
      id: 'p',
      plantedOn: '2026-05-28',
      marketClass: 'pinto',
      rowWidth: '30 in',
      seedDrop: '90,000 seeds/ac',
    },
    spots: Array.from({ length: spots }, (_, i) => ({
      id: `s${i}`,
      counts: [
        { id: `c${i}`, kind: 'rows', length: '10 ft', plants: [drawPoisson(40, random), drawPoisson(38, random)] },
      ],
    })),
    economics: { currency: '$', fullYield: '2,200 lb/ac', price: '34/cwt', seed: '60/ac', planting: '20/ac' },
  });
  if (!read.ok) throw new Error(read.found);
  return read.value;
}

const line = (name: string, value: string) => console.log(`${name.padEnd(44)} ${value}`);
const timed = (visit: VisitDocument) => {
  const start = performance.now();
  const startCpu = process.cpuUsage();
  const { decision } = assessVisit(visit);
  const cpu = process.cpuUsage(startCpu);
  return { ms: performance.now() - start, cpuMs: (cpu.user + cpu.system) / 1000, verdict: decision.verdict.kind };
};

console.log(`Node ${process.version}, ${cpus().length} cores\n`);
for (const spots of [SPOTS, 10]) {
  const visit = visitOf(spots);
  const first = timed(visit);
  const warm = Array.from({ length: REPEATS }, () => timed(visit)).sort((a, b) => a.ms - b.ms);
  const middle = warm[REPEATS >> 1]!;
  line(
    `${spots} spots, ${spots === SPOTS ? 'first call, cold' : 'first call'}`,
    `${first.ms.toFixed(1)} ms (processor ${first.cpuMs.toFixed(1)} ms)`,
  );
  line(
    `${spots} spots, warm, of ${REPEATS}`,
    `least ${warm[0]!.ms.toFixed(1)}, median ${middle.ms.toFixed(1)}, slowest ${warm.at(-1)!.ms.toFixed(1)} ms (${middle.verdict})`,
  );
}
