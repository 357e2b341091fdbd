const absolute = /^(?:\/|[A-Za-z]:[\\/]|\\\\)/;

/** `path` as seen from the absolute folder `folder`, without `.` and `..`. */
export function pathFrom(folder: string, path: string): string {
  const whole = absolute.test(path) ? path : `${folder}/${path}`;
  const parts: string[] = [];
  const [root = "", ...rest] = whole.split("/");
  for (const part of rest) {
    if (part === "..") parts.pop();
    else if (part !== "." && part !== "") parts.push(part);
  }
  return `${root}/${parts.join("/")}`;
}

/** The last name of a path. */
export function lastName(path: string): string {
  return path.split(/[\\/]/).findLast((part) => part !== "") ?? path;
}
