import {
  type Box,
  corners,
  type Drawing,
  type Mark,
  type Point,
  type Stroke,
  type TextMark,
  type Tone
} from './marks.ts'

/** Tones on white paper. A page may set others for the classes `s-…` (stroke) and `f-…` (fill). */
export const paperTones: Readonly<Record<Tone, string>> = {
  ink: '#1b1a17',
  soft: '#4d4a43',
  faint: '#8f897c',
  accent: '#3a2fb0',
  amber: '#6f4300',
  red: '#9b1020',
  paper: '#ffffff',
  tint: '#f0ebdf',
  'tint-2': '#e2ebe9'
}

/** Text of XML: what would be read as markup is written out, characters that XML has not are left out. */
export const escapeXml = (text: string): string =>
  text
    .replaceAll(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, '')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')

/**
 * The drawing as SVG 1.1 text that stands alone or inside a page: no ids, no style sheet, no script. Clips are nested
 * `svg` elements, so that many drawings share a page.
 */
export function svg({ width, height, description, marks }: Drawing): string {
  const size = `width="${figure(width)}" height="${figure(height)}" viewBox="0 0 ${figure(width)} ${figure(height)}"`
  const title = `<title>${escapeXml(description)}</title>`
  return `<svg xmlns="http://www.w3.org/2000/svg" ${size} role="img" font-size="12">${title}${marks.map(markText).join('')}</svg>`
}

/** A symbol of a few marks that says nothing by itself: a word stands beside it. */
export const symbolSvg = (size: number, marks: readonly Mark[]): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="${size}" height="${size}" viewBox="0 0 ${size} ${size}" aria-hidden="true">${marks.map(markText).join('')}</svg>`

function markText(mark: Mark): string {
  switch (mark.mark) {
    case 'path':
      return `<path d="${pathText(mark.points, mark.closed === true)}"${paint(mark)}/>`
    case 'circle':
      return `<circle cx="${figure(mark.at[0])}" cy="${figure(mark.at[1])}" r="${figure(mark.radius)}"${paint(mark)}/>`
    case 'text':
      return wordsText(mark)
    case 'hatch':
      return clipText(mark.box, hatchText(mark.box, mark.gap ?? 6, mark.tone))
    case 'raster':
      return `<image ${boxText(mark.box)} preserveAspectRatio="none" image-rendering="pixelated" href="${mark.href}"/>`
    case 'clip':
      return clipText(mark.box, mark.marks.map(markText).join(''))
  }
}

const clipText = (box: Box, inner: string): string =>
  `<svg ${boxText(box)} viewBox="${viewText(box)}" overflow="hidden">${inner}</svg>`

const boxText = ({ x, y, width, height }: Box): string =>
  `x="${figure(x)}" y="${figure(y)}" width="${figure(width)}" height="${figure(height)}"`

const viewText = ({ x, y, width, height }: Box): string => [x, y, width, height].map(figure).join(' ')

const pathText = (points: readonly Point[], closed: boolean): string =>
  `${points.map(([x, y], at) => `${at === 0 ? 'M' : 'L'}${figure(x)} ${figure(y)}`).join('')}${closed ? 'Z' : ''}`

interface Paint {
  readonly stroke?: Stroke
  readonly fill?: Tone
}

function paint({ stroke, fill }: Paint): string {
  const classes = [fill === undefined ? '' : `f-${fill}`, stroke === undefined ? '' : `s-${stroke.tone}`]
  const filled = fill === undefined ? 'fill="none"' : `fill="${paperTones[fill]}"`
  return ` class="${classes.filter((name) => name !== '').join(' ')}" ${filled}${strokeText(stroke)}`
}

function strokeText(stroke: Stroke | undefined): string {
  if (stroke === undefined) return ''
  const dash = stroke.dash === undefined ? '' : ` stroke-dasharray="${stroke.dash}"`
  return ` stroke="${paperTones[stroke.tone]}" stroke-width="${figure(stroke.width)}" stroke-linejoin="round"${dash}`
}

function wordsText({ at: [x, y], text, size = 12, anchor = 'start', tone = 'ink', turn, bold, rim }: TextMark): string {
  const place = turn === undefined ? `x="${figure(x)}" y="${figure(y)}"` : turned(x, y, turn)
  const weight = bold === true ? ' font-weight="600"' : ''
  const edge = rim === true ? ` s-paper" stroke="${paperTones.paper}" stroke-width="3" paint-order="stroke` : ''
  const look = `class="f-${tone}${edge}" fill="${paperTones[tone]}" text-anchor="${anchor}" font-size="${figure(size)}"`
  return `<text ${place} ${look}${weight}>${escapeXml(text)}</text>`
}

const turned = (x: number, y: number, turn: number): string =>
  `transform="translate(${figure(x)} ${figure(y)}) rotate(${figure(turn)})"`

function hatchText({ x, y, width, height }: Box, gap: number, tone: Tone): string {
  const count = Math.ceil((width + height) / gap)
  const points = Array.from(
    { length: count },
    (_, at) => `M${figure(x + at * gap)} ${figure(y)}l${figure(-height)} ${figure(height)}`
  )
  return `<path d="${points.join('')}" class="s-${tone}" fill="none" stroke="${paperTones[tone]}" stroke-width="1"/>`
}

/** Two decimals are a hundredth of a pixel; a value that is no number is a wrong program. */
function figure(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`a drawing can not have a place at ${value}`)
  const rounded = Math.round(value * 100) / 100
  return String(rounded === 0 ? 0 : rounded)
}

/** A filled box. */
export const filled = (box: Box, fill: Tone): Mark => ({ mark: 'path', points: corners(box), closed: true, fill })

/** The rim of a box. */
export const framed = (box: Box, stroke: Stroke): Mark => ({ mark: 'path', points: corners(box), closed: true, stroke })
