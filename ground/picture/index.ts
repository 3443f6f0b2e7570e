export { type Axis, axes } from './axes.ts'
export {
  type Box,
  type CircleMark,
  type ClipMark,
  corners,
  type Drawing,
  type HatchMark,
  line,
  type Mark,
  type PathMark,
  type Point,
  type RasterMark,
  type Stroke,
  type TextMark,
  type Tone
} from './marks.ts'
export { type Moving, moved } from './moved.ts'
export { type Indexed, png } from './png.ts'
export { type Cells, paletteOf, rasterHref } from './raster.ts'
export { place, type Scale, type Tick, ticks } from './scale.ts'
export { escapeXml, filled, framed, paperTones, svg, symbolSvg } from './svg.ts'
