/** The build puts the bytes of these files into the program, as `data:` addresses: no file has to be found at run time. */
declare module '*.ttf?inline' {
  const address: string;
  export default address;
}
