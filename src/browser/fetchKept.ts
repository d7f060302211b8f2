/** A file that counting needs, from what is kept on the device or else from the server. Rejects in plain words. */
export async function fetchKept(address: string): Promise<Response> {
  const answer = await fetch(address).catch(() => null);
  if (answer?.ok) return answer;
  throw new Error('the plant network is not on this device yet and could not be fetched');
}
