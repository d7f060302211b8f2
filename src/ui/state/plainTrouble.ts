/** What a failed write to this device means for the person. What was kept before stays kept. */
export function plainTrouble(error: unknown): string {
  const name = error instanceof Error ? error.name : '';
  if (name === 'QuotaExceededError') {
    return 'This device is full. Everything up to the last step is kept. Free some space (Settings: remove photos already sent), then do the last step again.';
  }
  if (name === 'InvalidStateError' || name === 'AbortError') {
    return 'The last step was not kept: the device stopped writing. Close other pages of Rowledger and do it again.';
  }
  return `The last step was not kept: ${error instanceof Error ? error.message : String(error)}`;
}
