import { type AnalysisClient, createAnalysisClient } from './analysisClient.ts';

/** The measuring thread of this page; its code is fetched when the first photo may come. */
export function startAnalysis(): AnalysisClient {
  return createAnalysisClient(() => new Worker(new URL('./analysis.worker.ts', import.meta.url), { type: 'module' }));
}
