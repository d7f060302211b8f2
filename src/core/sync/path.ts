/**
 * Where a value sits in a document: a JSON Pointer (RFC 6901), with one addition. A segment in square brackets names
 * the element of a list by its `id`, `/spots/[s1]/count`, so that an element keeps its address when others come and go.
 * A key that itself begins with a bracket is written `~2`.
 */
export type Path = string;

export type Segment = { readonly key: string } | { readonly element: string };

export function childPath(parent: Path, segment: Segment): Path {
  if ('element' in segment) return `${parent}/[${encode(segment.element)}]`;
  return `${parent}/${encode(segment.key).replace(/^\[/, '~2')}`;
}

export function pathSegments(path: Path): readonly Segment[] {
  if (path === '') return [];
  return path
    .slice(1)
    .split('/')
    .map((text) =>
      text.startsWith('[') && text.endsWith(']')
        ? { element: decode(text.slice(1, -1)) }
        : { key: decode(text.replace(/^~2/, '[')) },
    );
}

function encode(text: string): string {
  return text.replaceAll('~', '~0').replaceAll('/', '~1');
}

function decode(text: string): string {
  return text.replaceAll('~1', '/').replaceAll('~0', '~');
}

/** True for the path of a list element itself, where its order number is kept. */
export function isElementPath(path: Path): boolean {
  const last = path.slice(path.lastIndexOf('/') + 1);
  return last.startsWith('[') && last.endsWith(']');
}
