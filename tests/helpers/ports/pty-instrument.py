#!/usr/bin/env python3
"""An instrument on a pseudo-terminal, for tests: python3 pty-instrument.py LINK [TEMPLATE]

LINK becomes a symbolic link to the terminal; open it as if it were a serial port. Standard library only, POSIX only.
TEMPLATE is the line that is written; {n} counts from 0 (default: {n},4.1,23,212.4,21.5), {~4.1 0.2 1} wanders round 4.1 by 0.2 with one
decimal, a turn in 40 lines or so. The end of standard input, `quit` or a signal
unplugs and ends. Commands, one a line on standard input; each answers one line on standard output:

  rate HZ              lines by itself, HZ a second; 0 stops. While unplugged they are counted on, but lost -> rate HZ
  line TEMPLATE        changes what is written from now on                                         -> line
  send TEXT            one line of that text                                                       -> sent
  part TEXT            the text without a line end                                                 -> sent
  hex 00ff0a           these bytes as they are                                                     -> sent
  garbage COUNT [SEED] so many random bytes, line ends among them                                  -> sent
  flood HZ COUNT       COUNT lines at once at HZ a second (0: as fast as they are taken)           -> flood done N (N: the next number)
  unplug               the terminal goes away, LINK too: the other side sees a hang-up             -> unplugged N
  replug               a new terminal under the same LINK                                          -> replugged N
  answer TEXT          what a poll (any line from the other side) is answered with                 -> answer
  poll once|twice|never|late SECONDS   how it is answered (default never; lines by itself go on)   -> poll
  led                  from now on its time stands still between two `go`                           -> led
  go MS                does what falls into so many ms of that time, and waits until the other side
                       has taken in all of it (if anybody has the terminal open)                   -> went BYTES (so far)
  quit

First comes `ready PATH`. What the other side writes is told as `received HEX`, line by line.
"""
import array, fcntl, math, os, random, re, select, signal, sys, termios, time, tty

link, template = sys.argv[1], (sys.argv[2] if len(sys.argv) > 2 else '{n},4.1,23,212.4,21.5')
master = slave = None
out, heard, number = bytearray(), bytearray(), 0       # waiting to be written; half a line heard; next line's number
handed = 0                                              # bytes written so far
period, due = 0.0, 0.0                                 # lines by itself
flood_left, flood_period, flood_due = 0, 0.0, 0.0
answer, copies, delay, answers = 'OK', 0, 0.0, []      # answers: times at which one is due
led_time, is_read = None, False                         # is_read: what was sent last was taken in
TAKEN_WITHIN, TRIED_FOR = 1.0, 0.002                    # real seconds, where somebody reads and where nobody does


def clock():
    return time.monotonic() if led_time is None else led_time


def say(text):
    print(text, flush=True)


def plug():
    global master, slave, is_read
    is_read = False
    master, slave = os.openpty()
    tty.setraw(slave)                                   # no echo, no line editing; kept open so that nobody's close hangs it up
    os.set_blocking(master, False)
    if os.path.islink(link):
        os.unlink(link)
    os.symlink(os.ttyname(slave), link)


def unplug():
    global master, slave
    if master is None:
        return
    if os.path.islink(link):
        os.unlink(link)
    os.close(slave)
    os.close(master)
    master = slave = None
    out.clear()
    heard.clear()
    answers.clear()


def put(data):
    if master is not None:
        out.extend(data)


def wander(found):
    middle, reach, decimals = found.group(1).split()
    return f'{float(middle) + float(reach) * math.sin(number / (6 + len(middle))):.{int(decimals)}f}'


def put_line():
    global number
    text = template.replace('{n}', str(number))
    put(((re.sub(r'\{~([^}]*)\}', wander, text) if '{~' in text else text) + '\r\n').encode())
    number += 1


def obey(command):
    global period, due, template, flood_left, flood_period, flood_due, answer, copies, delay, led_time
    word, _, rest = command.partition(' ')
    now = clock()
    if word == 'rate':
        period, due = (1 / float(rest) if float(rest) > 0 else 0.0), now
        say('rate ' + rest)
    elif word == 'line':
        template = rest
        say('line')
    elif word in ('send', 'part', 'hex', 'garbage'):
        if word == 'hex':
            put(bytes.fromhex(rest))
        elif word == 'garbage':
            count, *seed = rest.split()
            put(random.Random(int(seed[0]) if seed else 1).randbytes(int(count)))
        else:
            put(rest.encode() + (b'\r\n' if word == 'send' else b''))
        say('sent')
    elif word == 'flood':
        rate, count = rest.split()
        flood_left, flood_period, flood_due = int(count), (1 / float(rate) if float(rate) > 0 else 0.0), now
    elif word == 'unplug':
        unplug()
        say(f'unplugged {number}')
    elif word == 'replug':
        unplug()
        plug()
        say(f'replugged {number}')
    elif word == 'answer':
        answer = rest
        say('answer')
    elif word == 'poll':
        copies = {'never': 0, 'twice': 2}.get(rest, 1)
        delay = float(rest.split()[1]) if rest.startswith('late') else 0.0
        say('poll')
    elif word == 'led':
        led_time = time.monotonic() if led_time is None else led_time
        say('led')
    elif word == 'go':
        if master is not None and select.select([master], [], [], 0)[0]:
            hear(os.read(master, 4096))
        led_time += float(rest) / 1000
        send_due()
        answer_due()
        hand_over()
        say(f'went {handed}')
    elif word == 'quit':
        raise SystemExit(0)
    elif word:
        say('unknown ' + word)


def hear(data):
    heard.extend(data.replace(b'\r', b'\n'))
    while b'\n' in heard:
        text, _, rest = bytes(heard).partition(b'\n')
        heard[:] = rest
        if text:
            say('received ' + text.hex())
            answers.extend([clock() + delay] * copies)


def send_due():
    global due
    now = clock()
    while period and now >= due:
        put_line()
        due += period


def answer_due():
    while answers and clock() >= answers[0]:
        answers.pop(0)
        put(answer.encode() + b'\r\n')


def write_some():
    global handed
    count = os.write(master, out[:4096])
    del out[:count]
    handed += count


def unread():
    count = array.array('i', [0])
    fcntl.ioctl(slave, termios.FIONREAD, count)
    return count[0]


def hand_over():
    """Waits until the other side has taken in all that was sent."""
    global is_read
    ends = time.monotonic() + (TAKEN_WITHIN if is_read else TRIED_FOR)
    while master is not None and (out or unread()):
        if out and len(select.select([], [master], [], 0)[1]):
            try:
                write_some()
            except BlockingIOError:
                pass
        if time.monotonic() > ends:
            is_read = False
            return
        time.sleep(0.0003)
    is_read = master is not None


def turn():
    global flood_left, flood_due
    send_due()
    now = clock()
    while flood_left and now >= flood_due and len(out) < 1 << 20:
        put_line()
        flood_left, flood_due = flood_left - 1, flood_due + flood_period
        if not flood_left:
            say(f'flood done {number}')
    answer_due()
    times = [t for t, wanted in ((due, period), (flood_due, flood_left and len(out) < 1 << 20), (answers[0] if answers else 0, answers)) if wanted]
    wait = max(0.0, min(times) - clock()) if times else None
    readers = [0] + ([master] if master is not None else [])
    ready, writable, _ = select.select(readers, [master] if out and master is not None else [], [], wait)
    if writable:
        try:
            write_some()
        except BlockingIOError:
            pass
    if master is not None and master in ready:
        hear(os.read(master, 4096))
    if 0 in ready:
        chunk = os.read(0, 65536)
        if not chunk:
            raise SystemExit(0)
        pending.extend(chunk)
        while b'\n' in pending:
            command, _, rest = bytes(pending).partition(b'\n')
            pending[:] = rest
            obey(command.decode().strip('\r'))


pending = bytearray()
signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))
try:
    plug()
    say('ready ' + link)
    while True:
        turn()
except KeyboardInterrupt:
    pass
finally:
    unplug()
