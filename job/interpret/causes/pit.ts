import { cause, PRACTICE } from './cause.ts'
import { weighed } from './criteria.ts'
import { repeats, round, run, strong } from './shapes.ts'
import { declared } from './shared.ts'

const numbers = {
  roundNone: declared(0.2, 'shorter over longer axis', 'a crack’s loop is a line with noise on it'),
  roundFull: declared(0.45, 'shorter over longer axis', 'a loop nearly half as wide as long has no one angle'),
  runNone: declared(3, 'times the rows expected', 'a pit is a spot'),
  runFull: declared(1.5, 'times the rows expected', 'the footprint and a pit of the size of the flaw sought'),
  repeatNone: declared(0.2, 'likeness', 'what two loops of noise share in a band of a few lobes'),
  repeatFull: declared(0.5, 'likeness', 'a pit comes again within the footprint'),
  weak: declared(5, 'signal to noise', 'noise alone makes a loop a fifth as wide as long'),
  clear: declared(10, 'signal to noise', 'from here on the loop is rounder than noise makes it')
}

export const pit = cause({
  name: 'pit',
  alsoCalled: ['corrosion pit', 'corrosion'],
  class: 'damage, not a crack',
  looks: 'A round loop on few revolutions, toward the crack angle.',
  source: PRACTICE,
  numbers,
  never: 'a crack may start in a pit: it is treated as relevant until shown otherwise',
  weigh: (features, v) =>
    weighed([
      round(features, { none: v.roundNone, full: v.roundFull }),
      run(features, { none: v.runNone, full: v.runFull }),
      repeats(features, { none: v.repeatNone, full: v.repeatFull }),
      strong(features, { none: v.weak, full: v.clear })
    ])
})
