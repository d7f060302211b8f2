/** Runs the jobs of one key one after another; jobs of different keys run side by side. */
export function oneAtATime(): <T>(key: string, job: () => Promise<T>) => Promise<T> {
  const last = new Map<string, Promise<unknown>>();
  return (key, job) => {
    const before = last.get(key) ?? Promise.resolve();
    const run = before.then(job, job);
    last.set(key, run);
    const forget = () => {
      if (last.get(key) === run) last.delete(key);
    };
    run.then(forget, forget);
    return run;
  };
}
