"""Makes the sample recordings of this folder and, beside each, what an independent reader finds in it.

Run with a Python that has NumPy and SciPy: python3 make_samples.py
Expected values come from Python's csv module and float(), from NumPy's loadtxt, from scipy.io.wavfile, or, where none of
them reads the file, from the numbers that struct packed into it; each expected file says which in "reader".
The signals are invented (a circle with noise and a pulse every 20 samples).
"""
import csv, io, json, math, random, struct
import numpy as np
from scipy.io import wavfile

random.seed(20)
RATE = 2000.0
N = 60
T = [k / RATE for k in range(N)]
X = [round(0.7 * math.cos(0.3 * k) + random.uniform(-0.05, 0.05), 5) for k in range(N)]
Y = [round(0.7 * math.sin(0.3 * k) + random.uniform(-0.05, 0.05), 5) for k in range(N)]
I = [1 if k % 20 == 3 else 0 for k in range(N)]


def put(name, data, expected):
    with open(name, 'wb') as f:
        f.write(data)
    with open(name + '.expected.json', 'w') as f:
        f.write('{\n' + ',\n'.join(f'{json.dumps(k)}: {json.dumps(v)}' for k, v in expected.items()) + '\n}\n')


def expect(reader, overrides, columns, rate=RATE, **more):
    return dict(reader=reader, overrides=overrides, rate_Hz=rate, **more, **columns)


def read_csv(data, encoding, delimiter, number=float, skip=1):
    rows = list(csv.reader(io.StringIO(data.decode(encoding), newline=None), delimiter=delimiter))
    rows = [r for r in rows if r][skip:]
    return [[number(c) for c in column] for column in zip(*rows)]


# --- text
rows = ['%.5f,%r,%r,%d' % r for r in zip(T, X, Y, I)]
d = ('time_s,x_V,y_V,index\n' + '\n'.join(rows) + '\n').encode()
t, x, y, i = read_csv(d, 'utf-8', ',')
put('comma.csv', d, expect('csv', {}, dict(time=t, x=x, y=y, index=i)))

d = 'Zeit (ms);R (µV);X (µV)\r\n' + ''.join(('%r;%r;%r\r\n' % (1000 * t, x, y)).replace('.', ',') for t, x, y in zip(T, X, Y))
d = d.encode('latin-1')
t, x, y = read_csv(d, 'latin-1', ';', lambda c: float(c.replace(',', '.')))
put('decimal_comma_latin1.csv', d, expect('csv, decimal comma replaced', {}, dict(time_ms=t, x=x, y=y)))

d = b'\xef\xbb\xbf' + ('t [s]\tre\tim\ttrigger\n' + ''.join('%r\t%.17g\t%.17g\t%d\n' % r for r in zip(T, X, Y, I))).encode()
t, x, y, i = read_csv(d, 'utf-8-sig', '\t')
put('tab_bom.tsv', d, expect('csv', {}, dict(time=t, x=x, y=y, index=i)))

out = io.StringIO()
np.savetxt(out, np.column_stack([T, X, Y]), header='time_s x_V y_V')
d = out.getvalue().encode()
a = np.loadtxt(io.BytesIO(d))
put('blanks_long_digits.txt', d, expect('numpy.loadtxt', {}, dict(time=list(a[:, 0]), x=list(a[:, 1]), y=list(a[:, 2]))))

d = ('time_s;x;y\r\n' + ''.join('%.4f;%.5f;%.5f\r\n' % r for r in zip(T, X, Y))).encode('utf-16')
t, x, y = read_csv(d, 'utf-16', ';')
put('utf16_bom.csv', d, expect('csv', {}, dict(time=t, x=x, y=y)))

d = ('"position (um)","x","y"\n' + ''.join('"{:,.1f}","{:.5f}","{:.5f}"\n'.format(500 * k, X[k], Y[k]) for k in range(N))).encode()
z, x, y = read_csv(d, 'utf-8', ',', lambda c: float(c.replace(',', '')))
put('quoted_thousands.csv', d, expect('csv, thousands commas removed', {'rate_Hz': 100}, dict(position_um=z, x=x, y=y), rate=100))

d = ('time_s,Z\n' + ''.join('%.4f,%r\n' % (t, complex(x, y)) for t, x, y in zip(T, X, Y))).encode()
t, z = read_csv(d, 'utf-8', ',', complex)
put('complex_cells.csv', d, expect('csv and complex()', {}, dict(time=[v.real for v in t], x=[v.real for v in z], y=[v.imag for v in z])))

clock = ['%02d:%02d%s' % (59 + (k // 40), k % 40 + 20 if k < 40 else k - 40, '' if k % 7 == 0 else '.0') for k in range(N)]
clock = [c.replace('60:', '00:') for c in clock]
d = ('Time,H,V\r' + ''.join('%s,%r,%r\r' % r for r in zip(clock, X, Y))).encode()
_, x, y = read_csv(d, 'utf-8', ',', lambda c: float(c) if ':' not in c else 0.0)
seconds = [k % 40 + 20 + 59 * 60 if k < 40 else k - 40 for k in range(N)]
put('clock_over_the_hour_cr.csv', d, expect('csv; clock by construction', {}, dict(time=seconds, x=x, y=y), rate=1))

M = 3200
big = ['%.2f,%.2f' % (math.cos(0.3 * k), math.sin(0.3 * k)) for k in range(M)]
big[700] = 'overload,0.1'
big[1500] = 'nan,nan'
text = 'x,y\n' + '\n'.join(big[:2000]) + '\nx,y\n' + '\n'.join(big[2000:])
d = (text[:-1]).encode()


def loose(cell):
    try:
        return float(cell)
    except ValueError:
        return math.nan


body = [r for r in csv.reader(io.StringIO(d.decode())) if r != ['x', 'y']]
x = [loose(r[0]) for r in body]
y = [loose(r[1]) for r in body]
bad = [k for k in range(M) if math.isnan(x[k]) or math.isnan(y[k])] + [M - 1]
none = lambda v: [None if k in bad else v[k] for k in range(M)]
put('damaged.csv', d, expect('csv and float(); the cut last row counts as lost', {'rate_Hz': RATE}, dict(x=none(x), y=none(y)), damaged=bad))

# --- sound files
IQ = np.column_stack([X, Y, I])


def riff(fmt, data, rid=b'RIFF', order='<', length=None, extra=b''):
    size = len(data) if length is None else length
    pad = b'\0' * (len(data) % 2)
    body = b'WAVE' + extra + b'fmt ' + struct.pack(order + 'I', len(fmt)) + fmt + b'data' + struct.pack(order + 'I', size) + data + pad
    return rid + struct.pack(order + 'I', min(len(body), 0xFFFFFFFF) if rid in (b'RIFF', b'RIFX') else 0xFFFFFFFF) + body


def fmt(tag, channels, bits, order='<', container=None):
    size = container or (bits + 7) // 8
    return struct.pack(order + 'HHIIHH', tag, channels, int(RATE), int(RATE) * channels * size, channels * size, bits)


def ints(a, size, order='little'):
    full = 2 ** (8 * size - 1)
    return b''.join(int(max(-full, min(full - 1, round(v * full)))).to_bytes(size, order, signed=True) for v in a.ravel())


def wav(name, data, scale, offset=0.0):
    with open(name, 'wb') as f:
        f.write(data)
    rate, a = wavfile.read(name)
    v = (a.astype('float64') - offset) / scale
    channels = dict(x=list(v[:, 0]), y=list(v[:, 1]), index=list(v[:, 2]))
    put(name, data, expect('scipy.io.wavfile', {'x': 0, 'y': 1, 'index': 2}, channels, rate=rate))


u8 = bytes(int(min(255, max(0, round(v * 128 + 128)))) for v in IQ.ravel())
wav('pcm8.wav', riff(fmt(1, 3, 8), u8), 128.0, 128.0)
wav('pcm16.wav', riff(fmt(1, 3, 16), ints(IQ, 2)), 2.0**15)
wav('pcm16_big_endian.wav', riff(fmt(1, 3, 16, '>'), ints(IQ, 2, 'big'), b'RIFX', '>'), 2.0**15)
wav('pcm24.wav', riff(fmt(1, 3, 24), ints(IQ, 3)), 2.0**31)
wav('pcm32.wav', riff(fmt(1, 3, 32), ints(IQ, 4)), 2.0**31)
wav('float32.wav', riff(fmt(3, 3, 32) + b'\0\0', (IQ * 3).astype('<f4').tobytes()), 1.0)
wav('float64.wav', riff(fmt(3, 3, 64), IQ.astype('<f8').tobytes()), 1.0)

guid = bytes.fromhex('000000001000800000aa00389b71')
ext = fmt(0xFFFE, 3, 32) + struct.pack('<HHI', 22, 20, 7) + struct.pack('<H', 1) + guid
left = (np.round(IQ * (2**19 - 1)).astype('int64') * 2**12).astype('<i4')
wav('extensible_20_in_32.wav', riff(ext, left.tobytes()), 2.0**31)

data = IQ.astype('<f4').tobytes()
ds64 = b'ds64' + struct.pack('<IQQQI', 28, len(data) + 80, len(data), N, 0)
d = riff(fmt(3, 3, 32), data, b'RF64', '<', 0xFFFFFFFF, ds64)
f4 = IQ.astype('<f4').astype('float64')
packed = dict(x=list(f4[:, 0]), y=list(f4[:, 1]), index=list(f4[:, 2]))
put('rf64.wav', d, expect('the numbers packed by struct', {'x': 0, 'y': 1, 'index': 2}, packed))
put('bw64.wav', b'BW64' + d[4:], expect('the numbers packed by struct', {'x': 0, 'y': 1, 'index': 2}, packed))

odd = b'JUNK' + struct.pack('<I', 5) + b'abcde\0' + b'LIST' + struct.pack('<I', 7) + b'INFOabc\0'
data = ints(IQ[:-1], 3)  # 531 bytes, an odd length
d = riff(fmt(1, 3, 24), data, extra=odd) + b'LIST' + struct.pack('<I', 4) + b'INFO'
wav('odd_chunks.wav', d, 2.0**31)

# a header written before the length was known, and a frame cut at the end
v = np.frombuffer(ints(IQ, 2), '<i2').reshape(-1, 3)[:-1] / 2.0**15
packed = dict(x=list(v[:, 0]), y=list(v[:, 1]), index=list(v[:, 2]))
for name, length in (('length_zero.wav', 0), ('length_unstated.wav', 0xFFFFFFFF)):
    put(name, riff(fmt(1, 3, 16), ints(IQ, 2)[:-3], length=length)[:-1], expect('the numbers packed by struct', {'x': 0, 'y': 1, 'index': 2}, packed))
put('cut_off.wav', riff(fmt(1, 3, 16), ints(IQ, 2)[:-3], length=12 * len(IQ))[:-1], expect('the numbers packed by struct', {'x': 0, 'y': 1, 'index': 2}, packed, missing=2 * N - (N - 1)))
