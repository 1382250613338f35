// Package stick is the removable drive: which there are, the one way of writing a file to one so that a yank cannot leave a lie behind, and finding
// our files among whatever else lies there. It touches only our own files, follows no link and runs nothing.
//
// The usual recipe (write, sync, rename, sync the folder) lost every file on FAT32 in a measured yank; the rename makes a folder entry of size
// zero that is only filled when the file itself is synced again. So there is one function, Write, and nobody writes to a stick otherwise.
package stick
