import { cause, PRACTICE } from './cause.ts'
import { weighed } from './criteria.ts'
import { allAround, atFace, run } from './shapes.ts'
import { declared, FACE } from './shared.ts'

const numbers = {
  ...FACE,
  aroundNone: declared(0.12, 'share of the circumference', 'a spot, or two'),
  aroundFull: declared(0.3, 'share of the circumference', 'two faces that rub do so over a good part of the joint'),

  runNone: declared(0.3, 'times the rows expected', 'one revolution'),
  runFull: declared(0.6, 'times the rows expected', 'a patch on the wall comes again')
}

export const fretting = cause({
  name: 'fretting',
  alsoCalled: ['fretting corrosion'],
  class: 'damage, not a crack',
  looks: 'A patch of irregular lobes at a joint, over a part of the circumference.',
  source: PRACTICE,
  numbers,
  never: 'cracks start from fretting: it is treated as relevant until shown otherwise',
  weigh: (features, v) =>
    weighed([
      atFace(features, ['joint'], v),
      allAround(features, { none: v.aroundNone, full: v.aroundFull }),

      run(features, { none: v.runNone, full: v.runFull })
    ])
})
