import type { VisitDocument } from '../../core/visit/visitSchema.ts';

/** What the engine says of spots and counts, by the names that the pages give them: `Spot 3`, `the count`. */
export function namedSpots(text: string, visit: Pick<VisitDocument, 'spots'>): string {
  return visit.spots.reduce((said, spot, i) => {
    const ofSpot = said.replaceAll(`spot "${spot.id}"`, `spot ${i + 1}`).replaceAll(`"${spot.id}"`, `spot ${i + 1}`);
    return spot.counts.reduce((now, count) => now.replaceAll(count.id, 'the count'), ofSpot);
  }, text);
}
