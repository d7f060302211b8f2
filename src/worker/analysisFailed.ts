import { cannot, type Outcome } from '../core/faults/outcome.ts';

/** What a thread answers when measuring a photo threw: out of memory, or a fault of ours. */
export function analysisFailed(file: string, error: unknown): Outcome<never> {
  return cannot(
    'analysis-failed',
    `${file}: ${(error as Error).message}`,
    'a photo this tool can measure',
    'Count by hand, and keep the photo: it is saved.',
  );
}
