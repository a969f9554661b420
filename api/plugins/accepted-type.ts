export const ARROW_STREAM = 'application/vnd.apache.arrow.stream';

/** Whether a request names a media type among those that it takes. One that takes anything gets JSON. */
export function accepts(accept: string | undefined, type: string): boolean {
  return (accept ?? '').split(',').some((each) => {
    const [name = '', ...parameters] = each.split(';').map((part) => part.trim().toLowerCase());
    return name === type && !parameters.some((parameter) => /^q=0(?:\.0*)?$/.test(parameter));
  });
}
