/** What the build writes above the service worker. */
declare const VERSION: string;
declare const FILES: Record<string, string>;
declare const HEADERS: Record<string, string>;
