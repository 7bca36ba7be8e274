import { readFile, realpath, statfs } from 'node:fs/promises';
import { UnusableStoreError } from './storeErrors.ts';

/** By the number that statfs(2) gives. */
const networkTypes = new Map<number, string>([
  [0x6969, 'NFS'],
  [0x517b, 'SMB'],
  [0xfe534d42, 'SMB'],
  [0xff534d42, 'CIFS'],
  [0x564c, 'NCP'],
  [0x5346414f, 'AFS'],
  [0x6b414653, 'AFS'],
  [0x73757245, 'Coda'],
  [0x00c36400, 'Ceph'],
  [0x01021997, '9P'],
  [0x0bd00bd0, 'Lustre'],
  [0x47504653, 'GPFS'],
  [0x01161970, 'GFS2'],
  [0x7461636f, 'OCFS2'],
]);
const fuseType = 0x65735546;
const networkPrograms =
  /^fuse\.(sshfs|rclone|glusterfs|s3fs|s3backer|davfs|curlftpfs|ceph(-fuse)?|juicefs|goofys|gcsfuse|smbnetfs|gvfsd-fuse|mount-s3)$/i;

/**
 * Refuses a folder on a network: locks there do not always hold, and what was synced is not always on the disk.
 * `readType` is the number statfs(2) gives for a path.
 */
export async function refuseNetworkFolder(
  folder: string,
  readType: (path: string) => Promise<number> = async (path) => (await statfs(path)).type,
): Promise<void> {
  const type = (await readType(folder)) >>> 0;
  const network = networkTypes.get(type) ?? (type === fuseType ? await networkProgram(folder) : undefined);
  if (network === undefined) return;
  throw new UnusableStoreError(
    `The job store cannot lie in ${folder}: that is a network file system (${network}). Give a folder on a local disk; several machines share a store with --store postgres://…`,
  );
}

/** The program behind a file system in user space, when it is one that reaches over the network. */
async function networkProgram(folder: string): Promise<string | undefined> {
  const path = await realpath(folder);
  const mounts = (await readFile('/proc/self/mountinfo', 'utf8').catch(() => '')).split('\n').map((line) => {
    const [before, after = ''] = line.split(' - ');
    return { at: before.split(' ')[4] ?? '', type: after.split(' ')[0] };
  });
  const holding = mounts
    .filter(({ at }) => at !== '' && (path === at || path.startsWith(at.endsWith('/') ? at : `${at}/`)))
    .sort((first, second) => second.at.length - first.at.length);
  const type = holding[0]?.type ?? '';
  return networkPrograms.test(type) ? type : undefined;
}
