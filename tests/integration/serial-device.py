# A Modbus RTU device and, with "lines" as its first argument, a device that prints numbers, each behind a pseudo-terminal
# whose name is printed. It shares no code with what it tests: the frame and its CRC are after "MODBUS over serial line
# specification and implementation guide V1.02".
import os
import pty
import sys
import time
import tty

holding = {0: 615, 1: 0xFFF6, 2: 0x4276, 3: 0x0000, 4: 32767}
inputs = {0: 1234}


def crc(frame):
    value = 0xFFFF
    for byte in frame:
        value ^= byte
        for _ in range(8):
            value = (value >> 1) ^ 0xA001 if value & 1 else value >> 1
    return bytes([value & 0xFF, value >> 8])


def answer(request):
    device, function = request[0], request[1]
    first, count = int.from_bytes(request[2:4], "big"), int.from_bytes(request[4:6], "big")
    if crc(request[:6]) != request[6:8] or device != 1:
        return b""
    table = {3: holding, 4: inputs}.get(function)
    if table is None or any(at not in table for at in range(first, first + count)):
        frame = bytes([device, function | 0x80, 2])
    else:
        words = b"".join(table[at].to_bytes(2, "big") for at in range(first, first + count))
        frame = bytes([device, function, len(words)]) + words
    return frame + crc(frame)


ours, theirs = pty.openpty()
tty.setraw(ours)
tty.setraw(theirs)
print(os.ttyname(theirs), flush=True)
if sys.argv[1:] == ["lines"]:
    for number in range(10_000):
        os.write(ours, b"noise\r\nT1=+061.50C\r\n")
        time.sleep(0.05)
else:
    waiting = b""
    while True:
        waiting += os.read(ours, 256)
        while len(waiting) >= 8:
            request, waiting = waiting[:8], waiting[8:]
            # A slow line: the answer comes in two parts.
            reply = answer(request)
            os.write(ours, reply[:3])
            os.write(ours, reply[3:])
