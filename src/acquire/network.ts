import { statfs } from "node:fs/promises";

/**
 * File systems on which a change made elsewhere is not told to a watcher, by the type that statfs(2) gives.
 * Numbers from Linux's include/uapi/linux/magic.h; vboxsf's from fs/vboxsf/super.c.
 */
const networkTypes: ReadonlyMap<number, string> = new Map([
  [0x6969, "NFS"],
  [0x517b, "SMB"],
  [0xfe534d42, "SMB"],
  [0xff534d42, "CIFS"],
  [0x01021997, "9p"],
  [0x65735546, "FUSE, such as sshfs"],
  [0x73757245, "Coda"],
  [0x5346414f, "AFS"],
  [0x6b414653, "AFS"],
  [0x00c36400, "Ceph"],
  [0x564c, "NCP"],
  [0x7461636f, "OCFS2"],
  [0x786f4256, "a virtual machine's shared folder"],
]);

/** The name of a network file system by its type number; undefined for one whose changes can be watched. */
export function networkType(type: bigint): string | undefined {
  // A C long: where it has 32 bits, CIFS comes out negative.
  return networkTypes.get(Number(BigInt.asUintN(32, type)));
}

/** The name of the network file system a folder lies on; undefined where it lies on none, or none can tell. */
export async function networkFileSystemOf(folder: string): Promise<string | undefined> {
  if (process.platform !== "linux") return undefined;
  try {
    return networkType((await statfs(folder, { bigint: true })).type);
  } catch {
    return undefined;
  }
}
