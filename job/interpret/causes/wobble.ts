import { ANGLES, alongLiftOff } from './angles.ts'
import { cause, PRACTICE } from './cause.ts'
import { atLeast, weighedFalse } from './criteria.ts'
import { moves, repeats, run, wide } from './shapes.ts'
import { declared } from './shared.ts'

const numbers = {
  ...ANGLES,
  repeatNone: declared(0.7, 'likeness', 'what is fixed to the wall comes again alike'),
  repeatFull: declared(0.4, 'likeness', 'a probe that moves by itself shows another loop on the next revolution'),
  movesNone: declared(3, 'degrees', 'play of the index mark and of the feed'),
  movesFull: declared(8, 'degrees', 'more than a place on the wall can move'),
  wideNone: declared(0.7, 'of the notch', 'the way of a probe as a whole is slow'),
  wideFull: declared(1.3, 'of the notch', 'broader than the coil makes of any small place'),
  runNone: declared(2.5, 'times the rows expected', 'what stays at its place over so many revolutions is of the wall'),
  runFull: declared(1.2, 'times the rows expected', 'a sway comes by some revolutions alike by chance'),
  narrow: declared(0.6, 'score', 'the band has cut its broad part off: width helps, and is not needed')
}

export const wobble = cause({
  name: 'wobble',
  alsoCalled: ['probe wobble', 'loose fit'],
  class: 'false',
  looks: 'Broad and irregular along lift-off, at no fixed angle of the hole.',
  source: PRACTICE,
  numbers,
  weigh(features, v) {
    const again = repeats(features, { none: v.repeatNone, full: v.repeatFull })
    const moved = moves(features, { none: v.movesNone, full: v.movesFull })
    const width = wide(features, { none: v.wideNone, full: v.wideFull })
    return weighedFalse([
      alongLiftOff(features, v),
      again.share >= moved.share ? again : moved,
      run(features, { none: v.runNone, full: v.runFull }),
      { ...width, share: atLeast(v.narrow, width.share) }
    ])
  }
})
