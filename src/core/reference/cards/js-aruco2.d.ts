/** The part of js-aruco2 2.0.0 that we use; the package has no types of its own. */
declare module 'js-aruco2' {
  const library: {
    readonly AR: {
      readonly Dictionary: new (name: string) => { readonly codeList: readonly string[] };
    };
  };
  export default library;
}
