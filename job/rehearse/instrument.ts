import { cos, pow, sin } from '@trueloop/ground/numerics'
import { filterChain } from './filter.ts'
import type { Fault, HoleScene } from './scene.ts'
import type { Place, Sum } from './term.ts'

/** Turns the signal of the pair into recorded units, in place, with the fault of the equipment if it has one. */
export function instrumentOf({ instrument, fault, recorder }: HoleScene): (place: Place, sum: Sum) => void {
  const c = instrument.gain * cos(instrument.rotation_rad)
  const s = instrument.gain * sin(instrument.rotation_rad)
  const { offset } = instrument
  const change = gainChange(fault)
  const filtered = filterChain(instrument.filters ?? [], recorder.rate_Hz)
  return (place, sum) => {
    const factor = change(place.turn)
    const { x, y } = sum
    sum.x = factor * (c * x - s * y)
    sum.y = factor * (s * x + c * y)
    filtered(sum)
    sum.x += offset.x
    sum.y += offset.y
    spoil(fault, place, sum)
  }
}

function gainChange(fault: Fault): (turn: number) => number {
  if (fault.kind === 'intermittent cable') {
    const isAway = (turn: number) =>
      fault.outages.some(({ from_turn, turns }) => turn >= from_turn && turn < from_turn + turns)
    return (turn) => (isAway(turn) ? 0 : 1)
  }
  if (fault.kind !== 'gain change') return () => 1
  const factor = pow(10, fault.change_dB / 20)
  return (turn) => (turn >= fault.from_turn ? factor : 1)
}

/** What happens behind the amplifier. */
function spoil(fault: Fault, { time }: Place, sum: Sum): void {
  if (fault.kind === 'dead channel') sum[fault.channel] = fault.level
  else if (fault.kind === 'clipped') {
    sum.x = Math.min(fault.limit, Math.max(-fault.limit, sum.x))
    sum.y = Math.min(fault.limit, Math.max(-fault.limit, sum.y))
  } else if (fault.kind === 'offset drift') {
    sum.x += fault.x_per_s * time
    sum.y += fault.y_per_s * time
  }
}
