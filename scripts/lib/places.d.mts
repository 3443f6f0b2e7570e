export declare const root: string
export declare function inClone(...parts: string[]): string
export declare function sharedRoot(): string
export declare function sharedPath(path: string): string | undefined
