import type { Result } from '@trueloop/ground/refusal'
import { diskFiles } from '../archive/index.ts'
import type { Source } from './contents.ts'
import { writeWhole } from './whole-file.ts'
import { type Writing, type Written, writeBundle } from './write.ts'

/**
 * Writes a bundle into a file, which appears whole or not at all; an older file of that name stays until then.
 * Refuses what `writeBundle` refuses, and bundle/unwritable-file. An aborted signal is thrown.
 */
export const exportFile = (source: Source, writing: Writing, path: string): Promise<Result<Written>> =>
  writeWhole({ files: diskFiles, path }, (sink) => writeBundle(source, writing, sink))
