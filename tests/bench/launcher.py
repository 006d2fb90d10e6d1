"""Starts one program and tells what it took: python -I -S launcher.py PROGRAM ARGUMENT ... prints seconds and peak kilobytes.

A program inherits the peak memory of what starts it (the kernel keeps the larger of the two marks over `exec`). So it is
started by this script, which imports next to nothing, and never by the measuring process, which is large by then.
"""

import os
import sys
import time

QUIET = [(os.POSIX_SPAWN_OPEN, number, os.devnull, os.O_WRONLY, 0) for number in (1, 2)]

if __name__ == "__main__":
    began = time.perf_counter()
    child = os.posix_spawn(sys.argv[1], sys.argv[1:], os.environ, file_actions=QUIET)
    _, status, used = os.wait4(child, 0)
    print(os.waitstatus_to_exitcode(status), time.perf_counter() - began, used.ru_maxrss)
