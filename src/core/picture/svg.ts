/** Escapes text for SVG and HTML. */
export function escapeXml(text: string): string {
  return text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');
}

/** A coordinate with a tenth of a pixel: enough for drawing, short in the file. */
export function px(value: number): string {
  return String(Math.round(value * 10) / 10);
}

export interface TextStyle {
  readonly sizePx: number;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly fill?: string;
  readonly bold?: boolean;
}

/** Text that stays readable on any soil: light letters with a dark edge, or plain dark letters on paper. */
export function svgText(x: number, y: number, text: string, style: TextStyle, onPhoto: boolean): string {
  const fill = style.fill ?? (onPhoto ? '#ffffff' : '#161616');
  const edge = onPhoto
    ? ` stroke="#000000" stroke-width="${px(style.sizePx / 4.5)}" stroke-linejoin="round" paint-order="stroke"`
    : '';
  const weight = style.bold === false ? 400 : 700;
  return `<text x="${px(x)}" y="${px(y)}" font-family="DejaVu Sans, Arial, sans-serif" font-size="${style.sizePx}" font-weight="${weight}" text-anchor="${style.anchor ?? 'start'}" fill="${fill}"${edge}>${escapeXml(text)}</text>`;
}

/** Breaks text at spaces so that a line fits `widthPx`, by the usual width of a letter (0.55 of its size). */
export function wrapText(text: string, sizePx: number, widthPx: number): string[] {
  const most = Math.max(10, Math.floor(widthPx / (sizePx * 0.55)));
  const lines = [''];
  for (const word of text.split(' ')) {
    const last = lines.at(-1) as string;
    if (last !== '' && last.length + 1 + word.length > most) lines.push(word);
    else lines[lines.length - 1] = last === '' ? word : `${last} ${word}`;
  }
  return lines;
}
