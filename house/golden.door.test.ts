/**
 * One program, one answer: the golden examinations, bundled once, run under this Node, under Node 24 and in Chromium, and
 * give the same bytes. V8 versions differ in their elementary functions (house.md, 10), so this fails where one slips in.
 */
import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { build } from 'esbuild'
import { chromium } from 'playwright-core'
import { beforeAll, describe, expect, it } from 'vitest'
import { goldenExaminations } from '../job/examine/golden/run.ts'
import { cloneRoot } from './outside.ts'
import { needsTool } from './tools.ts'

const script = join(cloneRoot, 'build', 'golden', 'golden.js')
const program = join(cloneRoot, 'build', 'golden', 'print.cjs')
const patience_ms = 120_000

/** Classic script in both worlds: a global `golden` with the one function. No Node built-in may be in it. */
const bundled = () =>
  build({
    absWorkingDir: cloneRoot,
    entryPoints: ['job/examine/golden/run.ts'],
    outfile: script,
    bundle: true,
    format: 'iife',
    globalName: 'golden',
    platform: 'neutral',
    mainFields: ['module', 'main'],
    target: 'es2023',
    charset: 'ascii',
    logLevel: 'error'
  })

const printing = `require('node:vm').runInThisContext(require('node:fs').readFileSync(${JSON.stringify(script)}, 'utf8'))
process.stdout.write(golden.goldenExaminations())
`

interface Answer {
  readonly bytes: number
  readonly sha256: string
}

const answerOf = (text: string): Answer => {
  const bytes = Buffer.from(text, 'utf8')
  return { bytes: bytes.length, sha256: createHash('sha256').update(bytes).digest('hex') }
}

function answerUnder(node: string): Answer {
  const { status, stdout, stderr } = spawnSync(node, [program], { maxBuffer: 2 ** 28, timeout: patience_ms })
  if (status !== 0) throw new Error(`${node} ended with ${status}\n${stderr}`)
  return answerOf(stdout.toString('utf8'))
}

const versionOf = (node: string): string => spawnSync(node, ['--version'], { encoding: 'utf8' }).stdout

const flags = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking']

async function answerIn(executablePath: string): Promise<Answer> {
  const browser = await chromium.launch({
    executablePath,
    headless: true,
    args: [...flags, '--disable-component-update', '--disable-sync']
  })
  try {
    const page = await browser.newPage()
    await page.addScriptTag({ path: script })
    return answerOf(await page.evaluate<string>('golden.goldenExaminations()'))
  } finally {
    await browser.close()
  }
}

let text = ''
let expected: Answer

beforeAll(async () => {
  await bundled()
  writeFileSync(program, printing)
  text = goldenExaminations()
  expected = answerOf(text)
}, patience_ms)

describe('the golden examinations', () => {
  it('hold indications of all three applications', () => {
    const found = JSON.parse(text)
    for (const application of ['hole', 'weld', 'loop'])
      expect(JSON.stringify(found[application])).toContain('"indications":[{')
  })

  it(
    'give these bytes as a bundle under this Node',
    () => {
      expect(answerUnder(process.execPath)).toEqual(expected)
    },
    patience_ms
  )
})

needsTool('node24', 'the golden examinations under Node 24', (node) => {
  it(
    'give the same bytes',
    () => {
      expect(versionOf(node)).toMatch(/^v24\./)
      expect(answerUnder(node)).toEqual(expected)
    },
    patience_ms
  )
})

needsTool('chromium', 'the golden examinations in Chromium', (executablePath) => {
  it(
    'give the same bytes',
    async () => {
      expect(await answerIn(executablePath)).toEqual(expected)
    },
    patience_ms
  )
})
