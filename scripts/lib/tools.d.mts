export type ToolName =
  | 'chromium'
  | 'numpy'
  | 'scipy'
  | 'mpmath'
  | 'strace'
  | 'taskset'
  | 'sox'
  | 'openssl'
  | 'sha256sum'
  | 'unzip'
  | 'pdftotext'
  | 'pdfdetach'
  | 'qpdf'
  | 'freefem'
  | 'rscript'
  | 'node24'
export interface Tool {
  readonly name: ToolName
  readonly kind: 'command' | 'python' | 'npm'
  readonly apt?: readonly string[]
  /** Only for the slow checks of `npm run long`. */
  readonly long?: boolean
}
export declare const tools: readonly Tool[]
export declare function findTool(name: ToolName): string | undefined
