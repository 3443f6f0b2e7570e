import { type Box, line, type Mark } from './marks.ts'
import { place, type Scale, type Tick } from './scale.ts'
import { framed } from './svg.ts'

export interface Axis {
  readonly scale: Scale
  readonly ticks: readonly Tick[]
  readonly label: string
}

/** A frame with ticks and labels below and at the left. It needs 34 px under the box and 46 px left of it. */
export const axes = (box: Box, x: Axis, y: Axis): readonly Mark[] => [
  framed(box, { tone: 'soft', width: 1 }),
  ...x.ticks.flatMap((tick) => below(box, place(x.scale, tick.value), tick.text)),
  ...y.ticks.flatMap((tick) => leftOf(box, place(y.scale, tick.value), tick.text)),
  { mark: 'text', at: [box.x + box.width / 2, box.y + box.height + 31], text: x.label, anchor: 'middle', tone: 'soft' },
  { mark: 'text', at: [box.x - 36, box.y + box.height / 2], text: y.label, anchor: 'middle', tone: 'soft', turn: -90 }
]

function below({ y, height }: Box, at: number, text: string): readonly Mark[] {
  const foot = y + height
  return [
    line([at, foot], [at, foot + 4], { tone: 'soft', width: 1 }),
    { mark: 'text', at: [at, foot + 16], text, anchor: 'middle', size: 11 }
  ]
}

const leftOf = ({ x }: Box, at: number, text: string): readonly Mark[] => [
  line([x - 4, at], [x, at], { tone: 'soft', width: 1 }),
  { mark: 'text', at: [x - 7, at + 4], text, anchor: 'end', size: 11 }
]
