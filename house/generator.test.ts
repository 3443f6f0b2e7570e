import { describe, expect, it } from 'vitest'
import { judges, readsOfGenerator } from './generator.ts'
import { codeSources } from './tree.ts'

const file = (path: string, text: string) => ({ path, text })
const read = (path: string, text: string) => readsOfGenerator([file(path, text)])

describe('the detector', () => {
  const all = codeSources()

  it.each(['plan', 'signal', 'standardize', 'interpret', 'evaluate', 'examine'])('has code to look at in %s', (room) =>
    expect(judges(all).filter(({ path }) => path.startsWith(`job/${room}/`)).length).toBeGreaterThan(3)
  )
  it('reads no parameter from the generator', () => expect(readsOfGenerator(all)).toEqual([]))
})

describe('the check itself', () => {
  it.each([
    ['the index', 'job/interpret/a.ts', "import { SEEDS } from '../rehearse/index.ts'"],
    [
      'a file past the index',
      'job/interpret/causes/a.ts',
      "import { families } from '../../rehearse/draw/families.ts'"
    ],
    ['a type', 'job/evaluate/a.ts', "import type { HoleScene } from '../rehearse/scene.ts'"],
    ['a re-export', 'job/signal/index.ts', "export { folded } from '../rehearse/bell.ts'"],
    ['an import when it runs', 'job/examine/a.ts', "const made = await import('../rehearse/index.ts')"],
    ['an import type', 'job/plan/a.ts', "let one: import('../rehearse/index.ts').Setup"],
    ['the name of the package', 'job/standardize/a.ts', "import { drawSetup } from '@trueloop/job/rehearse'"]
  ])('finds %s', (_, path, text) => expect(read(path, text)).toHaveLength(1))

  it('finds it behind another file', () => {
    const between = file('job/record/known.ts', "export { SEEDS } from '../rehearse/index.ts'")
    const farther = file('job/record/index.ts', "export * from './known.ts'")
    const judge = file('job/interpret/a.ts', "import { SEEDS } from '../record/index.ts'")
    expect(readsOfGenerator([judge, farther, between])).toEqual(['job/interpret/a.ts:1: ../record/index.ts'])
  })

  it('finds it behind the golden examinations, which themselves may read it', () => {
    const made = file('job/examine/golden/run.ts', "import { generate } from '../../rehearse/index.ts'")
    const judge = file('job/examine/a.ts', "import { goldenExaminations } from './golden/run.ts'")
    expect(readsOfGenerator([judge, made])).toEqual(['job/examine/a.ts:1: ./golden/run.ts'])
  })

  it.each([
    ['a test', 'job/interpret/a.test.ts', "import { generate } from '../rehearse/index.ts'"],
    ['a testing folder', 'job/examine/testing/a.ts', "import { generate } from '../../rehearse/index.ts'"],
    ['the other direction', 'job/rehearse/a.ts', "import { bellWidth } from '../signal/index.ts'"],
    ['a door', 'apps/cli/a.ts', "import { demoHoles } from '@trueloop/job/rehearse'"],
    ['a comment', 'job/signal/a.ts', "// import { x } from '../rehearse/index.ts'"]
  ])('lets %s pass', (_, path, text) => expect(read(path, text)).toEqual([]))

  it('finds one in the house as it is, put into a file that is really there', () => {
    const all = codeSources()
    const path = 'job/interpret/detect.ts'
    const spoiled = all.map((source) =>
      source.path === path ? file(path, `import { SEEDS } from '../rehearse/index.ts'\n${source.text}`) : source
    )
    expect(readsOfGenerator(spoiled)).toContain(`${path}:1: ../rehearse/index.ts`)
  })
})
