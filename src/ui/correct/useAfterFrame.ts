import { useEffect, useState } from 'preact/hooks';

/** The newest value, once the frame that it came with is drawn; the one before until then. */
export function useAfterFrame<T>(value: T): T {
  const [shown, show] = useState(value);
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const frame = requestAnimationFrame(() => {
      timer = setTimeout(() => show(() => value));
    });
    return () => {
      cancelAnimationFrame(frame);
      clearTimeout(timer);
    };
  }, [value]);
  return shown;
}
