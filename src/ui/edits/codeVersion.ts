/** Put in by the build: the version of this app. */
declare const APP_VERSION: string;

/** Which code counted. */
export const codeVersion: string = `rowledger ${APP_VERSION}`;
