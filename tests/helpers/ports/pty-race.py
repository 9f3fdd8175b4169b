#!/usr/bin/env python3
"""Pseudo-terminals that vanish right after their last byte: python3 pty-race.py LINK

For each line on standard input: a new terminal under LINK, `ready`; at the next line: one last line of data and, in the same breath, gone: `gone`.
"""
import os, sys, tty

link = sys.argv[1]
for _ in sys.stdin:
    master, slave = os.openpty()
    tty.setraw(slave)
    if os.path.islink(link):
        os.unlink(link)
    os.symlink(os.ttyname(slave), link)
    print('ready', flush=True)
    if not sys.stdin.readline():
        break
    os.close(slave)
    os.write(master, b'1,4.2,12,180,20\r\n')
    os.close(master)
    os.unlink(link)
    print('gone', flush=True)
