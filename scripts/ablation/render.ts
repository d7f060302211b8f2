/**
 * Renders the strips that the ablation needs beside the samples: ground without a crop, and rows with many doubles.
 *
 *   npx tsx scripts/ablation/render.ts [DIR]
 */
import { makeTestScenes } from './testScenes.ts';

console.log(await makeTestScenes(process.argv[2] ?? 'artifacts/ablation'));
