/** Every way the server can refuse, in one table: HTTP status, what was wanted, what to do next. */
export const FAULTS = {
  'bad-request': [400, 'a request as described at /docs', 'Correct the named part and send again.'],
  'not-signed-in': [401, 'the passphrase this server was started with', 'Sign in and try again.'],
  'too-many-tries': [429, 'fewer than 10 wrong passphrases a minute', 'Wait a minute, then try again.'],
  'wrong-origin': [
    403,
    'a request from this server’s own pages',
    'Open the page under the address this server prints at start.',
  ],
  'not-found': [
    404,
    'something that is in this archive',
    'Check the address; it may not have been sent to this server yet.',
  ],
  'no-photo': [404, 'a photo that has arrived here', 'Wait until the phone that took it has sent it.'],
  'no-strip': [
    409,
    'machine detections of this photo that found a reference',
    'Analyse the photo, or give it a reference, then ask again.',
  ],
  'wrong-offset': [409, 'the next byte that is missing', 'Go on from the offset in this answer.'],
  'wrong-length': [
    409,
    'the same whole length in every part of one photo',
    'Ask for the state of the upload and begin again.',
  ],
  'wrong-hash': [
    422,
    'bytes that give the SHA-256 in the address',
    'The received bytes were thrown away: send the photo again from the start.',
  ],
  'not-a-photo': [415, 'a JPEG, PNG, WebP, AVIF or HEIC file', 'Send the photo as the camera wrote it.'],
  'wrong-type': [415, 'the content type named in /docs', 'Set the Content-Type header.'],
  'too-large': [413, 'less', 'Send smaller pieces.'],
  'foreign-cursor': [
    409,
    'a cursor that this archive gave',
    'Begin again without a cursor: what is here already is recognised.',
  ],
  'record-changed': [
    409,
    'the record as it was first sent',
    'Records are never altered: record the change under a new id.',
  ],
  'record-refused': [
    422,
    'a record as described at /docs',
    'It stays in the queue of its device: update the app or the server.',
  ],
  'too-new': [422, 'a version this server knows', 'Update this server, then try again.'],
  'not-an-archive': [422, 'a zip file written by the export of this program', 'Choose another file.'],
  'unsafe-archive': [422, 'entry names that stay inside the archive', 'Do not use this file; ask who made it.'],
  'broken-archive': [
    422,
    'an archive whose contents match its own list',
    'Nothing was imported. Copy or export it again.',
  ],
  'in-use': [
    409,
    'a data folder that no other server has open',
    'Stop the other server, or give another folder with --data.',
  ],
  'photo-gone': [
    500,
    'every original in the photos folder',
    'Put the file back from a copy, or send the photo again from its device.',
  ],
  'disk-full': [
    507,
    'free space in the data folder',
    'Nothing stored before was lost. Free some space, then send again.',
  ],
  'client-gone': [400, 'the whole request', 'The line broke: send it again.'],
  'server-fault': [500, 'no fault in this server', 'Nothing stored before was lost. Look at the server’s messages.'],
} as const satisfies Record<string, readonly [number, string, string]>;

export type FaultCode = keyof typeof FAULTS;

/** What a client is told: what was found, what was wanted, what to do next. `message` is the three in one line. */
export interface FaultBody {
  readonly error: {
    readonly code: FaultCode;
    readonly found: string;
    readonly wanted: string;
    readonly next: string;
    readonly message: string;
    /** Facts a program can act on, such as the offset to go on from. */
    readonly facts: Readonly<Record<string, string | number | null>>;
  };
}

export type Fault = Error & { readonly fault: FaultBody['error']; readonly status: number };

/** Makes the error to throw. `wanted` overrides the table where the exact wish is known. */
export function fault(
  code: FaultCode,
  found: string,
  { wanted, facts = {} }: { wanted?: string; facts?: FaultBody['error']['facts'] } = {},
): Fault {
  const [status, usual, next] = FAULTS[code];
  const wish = wanted ?? usual;
  const message = `Found ${found}; wanted ${wish}. ${next}`;
  return Object.assign(new Error(message), { fault: { code, found, wanted: wish, next, message, facts }, status });
}

export function isFault(error: unknown): error is Fault {
  return error instanceof Error && 'fault' in error && 'status' in error;
}

/** A failed file or database step in the words of the table. */
export function asFault(error: unknown): Fault {
  if (isFault(error)) return error;
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  // Nothing here opens connections: these are of a client whose line broke in the middle of what it sent.
  if (/^(ECONNRESET|ECONNABORTED|EPIPE)$/.test(code)) {
    return fault('client-gone', 'a request that ended before it was whole');
  }
  if (/ENOSPC|EDQUOT|SQLITE_FULL/.test(code)) return fault('disk-full', 'no space left on the disk of this server');
  return Object.assign(fault('server-fault', 'an unexpected failure'), { cause: error });
}
