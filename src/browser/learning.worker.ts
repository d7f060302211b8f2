import { cannot, good } from '../core/faults/outcome.ts';
import { learn } from '../core/learning/learn.ts';
import type { LearningReply, LearningRequest } from '../worker/learningApi.ts';
import { trainHead } from '../worker/trainHead.ts';

/** The thread that learns from corrections; it fetches the learning library when it first trains, and ends when done. */
declare const self: DedicatedWorkerGlobalScope;

self.onmessage = async ({ data: { set, seed, about } }: MessageEvent<LearningRequest>) => {
  let reply: LearningReply;
  try {
    reply = good(await learn(set, (examples, from) => trainHead(examples, from, about), seed));
  } catch (error) {
    reply = cannot(
      'learning-failed',
      (error as Error).message,
      'corrected photos and enough memory to learn from them',
      'Counting goes on with the detector in use.',
    );
  }
  self.postMessage(reply);
};
