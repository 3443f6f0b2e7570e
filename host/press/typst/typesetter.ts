import { join, parse } from 'node:path'
import type { NodeCompiler } from '@myriaddreamin/typst-ts-node-compiler'
import type { Result } from '@trueloop/ground/refusal'
import { refuse } from '../codes.ts'
import { type Fonts, fonts } from './fonts.ts'
import { dataFile, template } from './template.ts'

export interface Typesetting {
  readonly data: object
  readonly files: readonly { readonly name: string; readonly bytes: Uint8Array }[]
  /** seconds since 1970 that the document carries as its time */
  readonly time_s: number
}

export interface Loaded {
  readonly compiler: typeof NodeCompiler
  readonly fonts: Fonts
}

/** The typesetter and its fonts; throws where one of them is not installed. */
export const load = async (): Promise<Loaded> => ({
  compiler: (await import('@myriaddreamin/typst-ts-node-compiler')).NodeCompiler,
  fonts: fonts()
})

/** A folder that nobody has: the typesetter is to read nothing but what it is given. */
const nowhere = join(parse(process.cwd()).root, 'trueloop-press')

/**
 * The template over its data as PDF/A-3a. The typesetter itself refuses to write a file that breaks a rule of that
 * standard which it knows; that is a defect of ours and throws. Refuses `press/no-typesetter`. source: iso19005-3-2012
 */
export async function typeset(work: Typesetting, loading = load): Promise<Result<Uint8Array>> {
  const loaded = await loading().catch((error: unknown) => missing(error))
  if ('refused' in loaded) return loaded
  const compiler = loaded.compiler.create({ workspace: nowhere, fontArgs: [{ fontBlobs: [...loaded.fonts.files] }] })
  compiler.mapShadow(join(nowhere, dataFile), Buffer.from(JSON.stringify(work.data)))
  for (const { name, bytes } of work.files) compiler.mapShadow(join(nowhere, name), Buffer.from(bytes))
  try {
    return compiler.pdf({ mainFileContent: template }, { pdfStandard: 'a-3a', creationTimestamp: work.time_s })
  } finally {
    compiler.resetShadow()
    compiler.evictCache(0)
  }
}

const missing = (error: unknown) =>
  refuse('press/no-typesetter', {
    found: error instanceof Error ? (error.message.split('\n')[0] ?? '') : String(error),
    needed: 'the typesetter and its fonts, which npm installs for the common platforms',
    remedy: 'print the HTML report from a browser, or install the packages again: npm ci'
  })
