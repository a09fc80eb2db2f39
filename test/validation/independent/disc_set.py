"""The discs: what each is made of. One function a disc returns its plan, its patches and the options of its making."""
import math

from scipy.spatial.transform import Rotation

from rotations import unit
from surfaces import DEG, bore, end_plane, face, make_plan, plane, round_, seat_plane, side_plane, slot

DISCS = {}


def disc(name):
    def register(fn):
        DISCS[name] = fn
        return fn
    return register


def std_blade():
    return [seat_plane(), side_plane(), end_plane()]


@disc('01-face-first')
def _():
    return make_plan('Face, bore, slot wall; any machine orientation', [face(), bore(), slot()], std_blade(), stations=18), {'shuffle': True}


@disc('02-bore-first')
def _():
    return make_plan('Bore, face, slot wall', [bore('A'), face('B'), slot('C')], std_blade(), stations=16), {}


@disc('03-clockwise')
def _():
    return make_plan('Clockwise station numbers, first angle 12.5 degrees', [face(), bore(), slot(azimuth=-30)], std_blade(),
                     stations=15, sense='clockwise', firstAngle=12.5,
                     seat={'radius': 180, 'axial': -20, 'heightAngle': -9, 'staggerAngle': -27}), {}


@disc('04-uneven-pitch')
def _():
    angles = [2, 31, 65, 99, 128, 162.5, 190, 221, 255, 288, 320]
    return make_plan('Uneven pitch by explicit angles', [face(), bore(), slot()], std_blade(), stations=11, angles=angles), {}


@disc('05-semicolon-comma')
def _():
    imp = {'delimiter': ';', 'decimal': ',', 'unit': 'mm',
           'columns': {'station': 'Platz', 'feature': 'Merkmal', 'x': 'X-Wert', 'y': 'Y-Wert', 'z': 'Z-Wert'}}
    plan = make_plan('Semicolons, decimal comma, own header in another order', [face(), bore(), slot()], std_blade(), stations=10)
    plan[0]['import'] = imp
    return plan, {'delimiter': ';', 'decimal': ',', 'roles': ['z', 'feature', 'y', 'station', 'x'], 'newline': '\r\n'}


@disc('05b-semicolon-comma-detected')
def _():
    return (make_plan('Semicolons and decimal comma, canonical names in another order, nothing stored in the plan',
                      [face(), bore(), slot()], std_blade(), stations=8),
            {'delimiter': ';', 'decimal': ',', 'roles': ['feature', 'station', 'z', 'y', 'x'], 'newline': '\r\n'})


@disc('06-inches')
def _():
    plan = make_plan('Points in inches with tip radius in inches', [face(), bore(), slot()], std_blade(), stations=10)
    plan[0]['import'] = {'delimiter': ',', 'decimal': '.', 'unit': 'inch',
                         'columns': {c: c for c in ['station', 'feature', 'x', 'y', 'z', 'r']}}
    return plan, {'roles': ['station', 'feature', 'x', 'y', 'z', 'r'], 'tip': lambda f: 1.5, 'digits': 9}


@disc('07-packed-labels')
def _():
    plan = make_plan('Packed labels', [face(), bore(), slot()], std_blade(), stations=12)
    plan[0]['import'] = {'delimiter': ',', 'decimal': '.', 'unit': 'mm', 'columns': {'label': 'Label', 'x': 'X', 'y': 'Y', 'z': 'Z'},
                         'label': 'B(?<station>\\d+)_(?<feature>.+)'}
    return plan, {'roles': ['label', 'x', 'y', 'z']}


@disc('08-tip-centres')
def _():
    hub = [face(material='negative'), bore(), slot(material='positive')]
    blade = [seat_plane(material='positive'), side_plane(), end_plane(material='negative')]
    return (make_plan('Tip centres without normals: inside bore, planes of either material side', hub, blade, stations=12),
            {'roles': ['station', 'feature', 'x', 'y', 'z', 'r'], 'tip': lambda f: 2.0 if f.startswith('HUB') else 1.0})


@disc('08b-tip-centres-spigot')
def _():
    spigot = round_('cylinder', 'A', 'HUB-SPIGOT', [0, 0, 0], [0, 0, 1], 62, {'len': (2, 22), 'n': 20}, side='outside')
    blade = [seat_plane(), round_('cylinder', 'E', 'PIN', [6, -2, 14], [0, 0, 1], 4, {'len': (1, 9), 'n': 10}, side='outside'), side_plane('F')]
    return (make_plan('Tip centres without normals: spigot and pin measured from outside', [spigot, face('B'), slot('C')], blade, stations=10),
            {'roles': ['station', 'feature', 'x', 'y', 'z', 'r'], 'tip': lambda f: 2.5})


@disc('09-tip-centres-with-normals')
def _():
    return (make_plan('Tip centres with i,j,k', [face(), bore(), slot()], std_blade(), stations=10),
            {'roles': ['station', 'feature', 'x', 'y', 'z', 'i', 'j', 'k', 'r'], 'tip': lambda f: 1.5})


@disc('10-gaps')
def _():
    def edit(rows):
        out, seats, sides = [], 0, 0
        for r in rows:
            st, f = r['station'], r['feature']
            if st == 4:
                continue
            if st == 7 and f == 'END':
                continue
            if st == 9 and f == 'SEAT':
                seats += 1
                if seats > 2:
                    continue
            if st == 13 and f == 'SIDE':
                continue
            out.append(r)
        strange = dict(out[0])
        out.insert(5, {**strange, 'feature': 'HUB-GROOVE'})
        out.insert(40, {**strange, 'station': 3, 'feature': 'SHROUD'})
        out.insert(41, {**strange, 'station': 15, 'feature': 'SEAT'})
        out.append({**strange, 'station': None, 'feature': 'SEAT'})
        out.append({**strange, 'station': 2, 'feature': 'HUB-FACE'})
        return out
    return (make_plan('Stations 4, 7, 9, 13 missing in part or whole; five points the plan does not know', [face(), bore(), slot()],
                      std_blade(), stations=14), {'edit': edit})


@disc('10b-degenerate-station')
def _():
    def edit(rows):
        seat = [r for r in rows if r['station'] == 5 and r['feature'] == 'SEAT']
        a, b = seat[0]['x'], seat[-1]['x']
        for i, r in enumerate(seat):
            r['x'] = a + (b - a) * i / (len(seat) - 1)
        return rows
    return make_plan('Station 5 has its seat points on one line', [face(), bore(), slot()], std_blade(), stations=8), {'edit': edit, 'digits': 9}


def slot_mid(label='C', azimuth=0.0, **extra):
    c, s = math.cos(azimuth * DEG), math.sin(azimuth * DEG)
    d = {'label': label, 'features': ['SLOT-L', 'SLOT-R'], 'type': 'midplane',
         'nominal': {'point': [95 * c, 95 * s, 0], 'direction': [-s, c, 0] if azimuth else [0, 1, 0]}, **extra}
    return d, {'at': [95 * c, 95 * s, -8], 'half': (12, 5), 'u': [c, s, 0], 'n': 8, 'width': 18}


@disc('11-midplane-clocking')
def _():
    return make_plan('Slot mid-plane sets the clocking by location at its nominal radius', [face(), bore(), slot_mid()], std_blade(), stations=12), {}


@disc('11b-midplane-direction')
def _():
    return (make_plan('Slot mid-plane, clocking by direction, bore first', [bore('A'), face('B'), slot_mid(azimuth=40, clocking='direction')],
                      std_blade(), stations=10), {'roles': ['station', 'feature', 'x', 'y', 'z', 'r'], 'tip': lambda f: 1.0})


@disc('11c-plane-location')
def _():
    return (make_plan('Slot wall, clocking by location', [face(), bore(), slot(clocking='location', point=[95, 0, 0])], std_blade(), stations=9), {})


@disc('12-hole-clocking')
def _():
    hole = round_('circle', 'C', 'HUB-HOLE', [92, 0, 0], [0, 0, 1], 6, {'n': 12}, side='inside')
    return make_plan('Circle of a dowel hole sets the clocking', [face(), bore(), hole], std_blade(), stations=12), {}


@disc('12b-hole-cylinder-clocking')
def _():
    hole = round_('cylinder', 'C', 'HUB-HOLE', [0, 92, -5], [0, 0, 1], 6, {'len': (-9, 4), 'n': 15}, side='inside')
    return make_plan('Dowel hole as a cylinder sets the clocking, bore first', [bore('A'), face('B'), hole], std_blade(), stations=12), {}


@disc('12c-ball-clocking')
def _():
    ball = round_('sphere', 'C', 'HUB-BALL', [-60, 80, 10], None, 8, {'n': 12, 'cap': 100}, side='outside')
    return make_plan('A ball sets the clocking', [face(), bore(), ball], std_blade(), stations=10), {}


@disc('13-cone-first')
def _():
    cone = round_('cone', 'A', 'HUB-CONE', [0, 0, -12], [0, 0, 1], 70, {'len': (-14, 10), 'n': 30}, halfAngle=8.0, side='inside')
    return make_plan('Cone fixes five freedoms, slot wall the sixth', [cone, slot('B')], std_blade(), stations=10), {}


@disc('13b-cone-second')
def _():
    cone = round_('cone', 'B', 'HUB-CONE', [0, 0, 10], [0, 0, 1], 64, {'len': (-8, 8), 'n': 24}, halfAngle=-14.0, side='outside')
    return make_plan('Face, then an outside cone held square to it', [face(), cone, slot()], std_blade(), stations=10), {}


@disc('13c-cone-tip-centres')
def _():
    cone = round_('cone', 'A', 'HUB-CONE', [0, 0, 0], [0, 0, 1], 70, {'len': (-25, 0), 'n': 30}, halfAngle=8.0, side='inside')
    return (make_plan('Cone first, tip centres without normals', [cone, slot('B')], std_blade(), stations=8),
            {'roles': ['station', 'feature', 'x', 'y', 'z', 'r'], 'tip': lambda f: 1.5})


@disc('14-bestfit')
def _():
    blade = [seat_plane(), side_plane(),
             round_('cylinder', 'F', 'PIN', [18, 0, 20], [0, 0, 1], 5, {'len': (-4, 6), 'n': 10, 'arc': (-120, 140)}, side='outside'),
             round_('sphere', 'G', 'BALL', [-20, 4, 40], None, 6, {'n': 10, 'cap': 100}, side='outside')]
    return make_plan('Best fit of planes, pin and ball', [face(), bore(), slot()], blade, stations=10, pose='bestfit'), {}


@disc('14b-bestfit-wire')
def _():
    blade = [seat_plane(),
             ({'label': 'E', 'feature': 'EDGE', 'type': 'line', 'nominal': {'point': [0, 3, 60], 'direction': [0, 0, 1]}}, {'len': (-40, 45), 'n': 8}),
             round_('circle', 'F', 'RIM', [-15, 0, 30], [1, 0, 0], 9, {'n': 9}, side='outside'),
             ({'label': 'G', 'feature': 'TARGET', 'type': 'point', 'nominal': {'point': [8, -6, 120]}}, {'n': 2})]
    return (make_plan('Best fit of plane, line, circle and point', [bore('A'), face('B'), slot('C')], blade, stations=9, pose='bestfit'),
            {'bladeDefects': (0.01, 2e-4)})


@disc('14c-bestfit-tip-centres')
def _():
    blade = [seat_plane(), side_plane(material='positive'),
             round_('cone', 'F', 'STUD', [18, 0, 20], [0, 0, 1], 6, {'len': (-5, 6), 'n': 12}, halfAngle=-10.0, side='outside'),
             round_('sphere', 'G', 'CUP', [-20, 4, 40], None, 9, {'n': 10, 'cap': 80}, side='inside')]
    return (make_plan('Best fit with tip centres, weights from sigma', [face(), bore(), slot()], blade, stations=8, pose='bestfit'),
            {'roles': ['station', 'feature', 'x', 'y', 'z', 'r', 'sigma'], 'tip': lambda f: 1.0, 'sigma': True,
             'weights': True})


def ball(label, feature, point, n=14):
    return round_('sphere', label, feature, point, None, 10, {'n': n, 'cap': 105}, side='outside')


@disc('15-three-balls')
def _():
    hub = [ball('A', 'BALL-1', [100, 0, 10]), ball('B', 'BALL-2', [-60, 85, 12]), ball('C', 'BALL-3', [-55, -80, -4])]
    return make_plan('Three tooling balls', hub, std_blade(), stations=9), {}


@disc('15b-face-ball-ball')
def _():
    hub = [face(), ball('B', 'BALL-1', [100, 0, 10]), ball('C', 'BALL-2', [-100, 5, 12])]
    return make_plan('Face and two tooling balls', hub, std_blade(), stations=9, firstAngle=7), {}


@disc('16-skew-blade-side')
def _():
    a = 80 * DEG
    side = side_plane(direction=[0, math.sin(a), math.cos(a)], point=[0, 9, 6], at=[0, 9, 6])
    return make_plan('Blade side at 80 degrees to the seat', [face(), bore(), slot()], [seat_plane(), side, end_plane()], stations=10), {'bladeDefects': (0.01, 1e-3)}


@disc('16b-skew-all')
def _():
    side = side_plane(direction=unit([0.2, 0.9, 0.25]).tolist())
    end = plane('F', 'END', [30, 0, 6], unit([0.95, 0.1, -0.15]).tolist(), {'at': [30, 0, 6], 'half': (7, 4), 'u': [0, 1, 0], 'n': 6})
    hub = [face(), bore(), plane('C', 'HUB-SLOT', [90, 0, -6], unit([0, 1, 0.3]).tolist(), {'at': [90, 0, -6], 'half': (12, 5), 'u': [1, 0, 0], 'n': 12})]
    return make_plan('No two planes square: hub slot wall leans, blade side and end skew', hub, [seat_plane(), side, end], stations=9), {'bladeDefects': (0.01, 1e-3), 'hubDefects': (0.02, 3e-4)}


@disc('17-temperature')
def _():
    return make_plan('26.5 degrees, not applied', [face(), bore(), slot()], std_blade(), stations=10,
                     temperature={'applied': False, 'part': 26.5, 'expansion': 8.6e-6, 'uPart': 0.2, 'uExpansion': 0.5e-6}), {}


@disc('17b-temperature-column')
def _():
    return (make_plan('Temperature column, differing between hub and blades', [bore('A'), face('B'), slot('C')], std_blade(), stations=9,
                      temperature={'applied': False, 'part': 35, 'expansion': 1.2e-5, 'uPart': 0.2, 'uExpansion': 0.5e-6}),
            {'roles': ['station', 'feature', 'x', 'y', 'z', 'temperature'],
             'temperatures': lambda st, f: 23.0 if st is None else 22.0 + 0.3 * (st % 4)})


@disc('17c-temperature-applied')
def _():
    return make_plan('27 degrees, already applied: no scaling', [face(), bore(), slot()], std_blade(), stations=8,
                     temperature={'applied': True, 'part': 27, 'expansion': 8.6e-6, 'uPart': 0.2, 'uExpansion': 0.5e-6}), {}


@disc('17d-temperature-offset-hub-tips')
def _():
    return (make_plan('Not applied, hub face 15 mm from the origin, tip centres', [face(z=15.0), bore(length=(-25, 12)), slot()], std_blade(), stations=8,
                      temperature={'applied': False, 'part': 15.0, 'expansion': 1.1e-5, 'uPart': 0.2, 'uExpansion': 0.5e-6}),
            {'roles': ['station', 'feature', 'x', 'y', 'z', 'r'], 'tip': lambda f: 2.0})


@disc('18-zones-overrides')
def _():
    position = {'tolerance': 0.1, 'zone': 'spherical', 'direction': [0, 1, 0], 'checkPoints': [
        {'name': 'root', 'at': [0, 0, 0]}, {'name': 'mid', 'at': [4, 2, 90], 'zone': 'cylindrical', 'tolerance': 0.13},
        {'name': 'tip', 'at': [3, -1, 160], 'zone': 'planar', 'tolerance': 0.07}]}
    overrides = {
        '2': {'seat': {'radius': 241.5, 'axial': 14, 'heightAngle': 5, 'staggerAngle': 39.5}},
        '4': {'limits': {'upset': 0.004, 'radial': 0.01, 'lean': 0.0004, 'stagger': 0.0002}},
        '7': {'position': {'tolerance': 0.5, 'zone': 'planar', 'direction': [0.6, 0.8, 0], 'checkPoints': [{'name': 'edge', 'at': [20, 5, 100]}]}},
    }
    return (make_plan('Spherical, cylindrical and planar zones; overrides of seat, limits, position', [face(), bore(), slot()], std_blade(),
                      stations=10, position=position, overrides=overrides,
                      limits={'oscillation': 0.03, 'tangential': 0.03, 'axial': 0.03, 'sweep': 0.0006}), {})


@disc('19-sigma-weights')
def _():
    return (make_plan('Weights from the sigma column', [face(), bore(), slot()], std_blade(), stations=10),
            {'roles': ['station', 'feature', 'x', 'y', 'z', 'sigma'], 'sigma': True, 'weights': True, 'noise': 0.003})


@disc('19b-sigma-not-weighted')
def _():
    return (make_plan('A sigma column, weights left equal', [face(), bore(), slot()], std_blade(), stations=8),
            {'roles': ['station', 'feature', 'x', 'y', 'z', 'sigma'], 'sigma': True})


@disc('20-bad-station')
def _():
    return (make_plan('Station 6 is off by millimetres and degrees', [face(), bore(), slot()], std_blade(), stations=12),
            {'bad': {6: [2.4, -1.7, 3.1, 2.5 * DEG, -1.8 * DEG, 4 * DEG]}})


@disc('20b-bad-station-bestfit')
def _():
    blade = [seat_plane(), side_plane(), end_plane(), round_('sphere', 'G', 'BALL', [-20, 4, 40], None, 6, {'n': 10, 'cap': 100}, side='outside')]
    return (make_plan('Station 3 is off by millimetres and degrees, best fit', [face(), bore(), slot()], blade, stations=9, pose='bestfit'),
            {'bad': {3: [-1.4, 2.7, -2.1, -3 * DEG, 2.2 * DEG, 3 * DEG]}})


@disc('21-face-slot-bore')
def _():
    return make_plan('Face, slot wall second, bore third', [face('A'), slot('B'), bore('C')], std_blade(), stations=10), {'hubDefects': (0.02, 2e-4)}


@disc('21b-bore-slot-face')
def _():
    return make_plan('Bore, slot wall second, face third', [bore('A'), slot('B'), face('C')], std_blade(), stations=10), {'hubDefects': (0.02, 2e-4)}


EXACT = {'noise': 0.0, 'exact': True, 'digits': None, 'spread': ([0.2, 0.2, 0.2], [3e-3, 3e-3, 3e-3])}


@disc('22a-exact-face-first')
def _():
    return make_plan('Noise-free, truth planted: face, bore, slot', [face(), bore(), slot()], std_blade(), stations=12), dict(EXACT)


@disc('22b-exact-bore-first')
def _():
    return make_plan('Noise-free, truth planted: bore, face, slot; clockwise', [bore('A'), face('B'), slot('C')], std_blade(), stations=9, sense='clockwise', firstAngle=-20), dict(EXACT)


@disc('22c-exact-slot-second')
def _():
    return make_plan('Noise-free, truth planted: face, slot, bore; blade side, seat, end', [face('A'), slot('B'), bore('C')],
                     [side_plane('D', n=10), seat_plane('E'), end_plane('F')], stations=9), dict(EXACT)


@disc('22d-exact-cone-midplane')
def _():
    cone = round_('cone', 'A', 'HUB-CONE', [0, 0, -12], [0, 0, 1], 70, {'len': (-14, 10), 'n': 30}, halfAngle=8.0, side='inside')
    return (make_plan('Noise-free, truth planted: cone, slot mid-plane; best fit', [cone, slot_mid('B')],
                      [seat_plane(), side_plane(), end_plane(), round_('sphere', 'G', 'BALL', [-20, 4, 40], None, 6, {'n': 10}, side='outside')],
                      stations=8, pose='bestfit'), dict(EXACT))


@disc('22e-exact-balls')
def _():
    hub = [ball('A', 'BALL-1', [100, 0, 10]), ball('B', 'BALL-2', [-60, 85, 12]), ball('C', 'BALL-3', [-55, -80, -4])]
    blade = [round_('cylinder', 'D', 'BORE', [0, 0, 30], [0, 0, 1], 6, {'len': (-14, 14), 'n': 12}, side='inside'),
             plane('E', 'TOP', [0, 0, 48], [0, 0, 1], {'at': [0, 0, 48], 'half': (20, 8), 'u': [1, 0, 0], 'n': 7}), side_plane('F')]
    return make_plan('Noise-free, truth planted: three balls; blade bore, top, side; tip centres', hub, blade, stations=8), {
        **EXACT, 'roles': ['station', 'feature', 'x', 'y', 'z', 'r'], 'tip': lambda f: 1.25}


@disc('23-far-away')
def _():
    return (make_plan('Ten metres from the machine origin', [face(), bore(), slot()], std_blade(), stations=10),
            {'machine': {'rotation': Rotation.from_euler('xyz', [0.3, -1.1, 2.2]).as_matrix().tolist(), 'origin': [8000.0, -5200.0, 3000.0]}})


@disc('23b-far-away-cone-bestfit')
def _():
    cone = round_('cone', 'B', 'HUB-CONE', [0, 0, 10], [0, 0, 1], 64, {'len': (-8, 8), 'n': 24}, halfAngle=-14.0, side='outside')
    blade = [seat_plane(), side_plane(), round_('cylinder', 'F', 'PIN', [18, 0, 20], [0, 0, 1], 5, {'len': (-4, 6), 'n': 10, 'arc': (-120, 140)}, side='outside')]
    return (make_plan('Ten metres from the machine origin, cone second, best fit', [face(), cone, slot()], blade, stations=8, pose='bestfit'),
            {'machine': {'rotation': Rotation.from_euler('xyz', [2.3, 0.4, -0.7]).as_matrix().tolist(), 'origin': [-6000.0, 6000.0, 5300.0]}})


@disc('24-nominal-points-off-patch')
def _():
    hub = [face(z=15.0, point=[20, -10, 15]), bore(length=(-25, 12), point=[0, 0, -40]), slot(point=[60, 0, 30])]
    blade = [seat_plane(point=(6, -4, 12), at=(0, 0, 12)), side_plane(point=(-5, 9, 2), at=(2, 9, 6)), end_plane(point=(30, 3, 0), at=(30, -1, 6))]
    return make_plan('Nominal points off the middle of the measured patches, hub face at z = 15', hub, blade, stations=10), {}


@disc('25-no-header')
def _():
    return make_plan('No header, canonical order', [face(), bore(), slot()], std_blade(), stations=8), {'headless': True}


@disc('25b-utf16')
def _():
    return make_plan('UTF-16 with byte order mark, tabs', [face(), bore(), slot()], std_blade(), stations=8), {
        'encoding': 'utf-16-le', 'delimiter': '\t', 'newline': '\r\n'}


@disc('25c-latin1')
def _():
    p = make_plan('Latin-1 with an umlaut in a feature name', [face(), bore(), slot()], std_blade(), stations=8)
    p[0]['disc']['datums'][0]['feature'] = 'NABE-FLÄCHE'
    return p, {'encoding': 'latin-1'}


@disc('25d-bom-extra-columns')
def _():
    return make_plan('UTF-8 with byte order mark, seq and time columns', [face(), bore(), slot()], std_blade(), stations=8), {
        'encoding': 'utf-8-sig', 'roles': ['seq', 'station', 'feature', 'x', 'y', 'z', 'time'], 'shuffle': True}


@disc('26-blade-seat-pin-side')
def _():
    blade = [seat_plane(), round_('cylinder', 'E', 'PIN', [-12, 3, 16], [0, 0, 1], 5, {'len': (-2, 8), 'n': 12}, side='outside'), side_plane('F')]
    return make_plan('Blade datums: seat, pin, side', [face(), bore(), slot()], blade, stations=10), {}


@disc('26b-blade-bore-first')
def _():
    blade = [round_('cylinder', 'D', 'STACK-BORE', [0, 0, 30], [0, 0, 1], 6, {'len': (-14, 14), 'n': 12}, side='inside'),
             plane('E', 'TOP', [0, 0, 48], [0, 0, 1], {'at': [0, 0, 48], 'half': (20, 8), 'u': [1, 0, 0], 'n': 7}), side_plane('F')]
    return make_plan('Blade datums: bore along the stacking axis, top face, side', [bore('A'), face('B'), slot('C')], blade, stations=10), {}


@disc('26c-blade-seat-pin-pin')
def _():
    blade = [seat_plane(), round_('cylinder', 'E', 'PIN-1', [-18, 3, 16], [0, 0, 1], 5, {'len': (-2, 8), 'n': 10}, side='outside'),
             round_('cylinder', 'F', 'PIN-2', [20, -2, 16], [0, 0, 1], 4, {'len': (-2, 8), 'n': 10}, side='outside')]
    return make_plan('Blade datums: seat, pin, second pin by location', [face(), bore(), slot()], blade, stations=10), {}


@disc('26d-blade-seat-side-hole')
def _():
    blade = [seat_plane(), side_plane(), round_('circle', 'F', 'HOLE', [14, 9, 6], [0, 1, 0], 3, {'n': 8}, side='inside')]
    return make_plan('Blade datums: seat, side, a hole in the side', [face(), bore(), slot()], blade, stations=10), {}


@disc('26e-blade-ball-seat-side')
def _():
    blade = [round_('sphere', 'D', 'BALL', [0, 0, 30], None, 8, {'n': 12, 'cap': 110}, side='outside'),
             seat_plane('E'), side_plane('F')]
    return make_plan('Blade datums: ball, seat, side', [face(), bore(), slot()], blade, stations=10), {}


@disc('26f-blade-tongue-midplane')
def _():
    tongue = {'label': 'E', 'features': ['TONGUE-P', 'TONGUE-N'], 'type': 'midplane', 'nominal': {'point': [0, 0, 6], 'direction': [0, 1, 0]}, 'clocking': 'direction'}
    blade = [seat_plane(), (tongue, {'at': [0, 0, 6], 'half': (25, 4), 'u': [1, 0, 0], 'n': 6, 'width': 16, 'slot': False}), end_plane()]
    return make_plan('Blade datums: seat, tongue mid-plane by direction, end', [face(), bore(), slot()], blade, stations=10), {}


@disc('26g-blade-seat-edge-end')
def _():
    edge = ({'label': 'E', 'feature': 'EDGE', 'type': 'line', 'nominal': {'point': [0, 9, 12], 'direction': [1, 0, 0]}}, {'len': (-25, 25), 'n': 8})
    return make_plan('Blade datums: seat, line of an edge, end', [face(), bore(), slot()], [seat_plane(), edge, end_plane()], stations=8), {}


CALM = ([0.003, 0.003, 0.005], [4e-5, 4e-5, 8e-5])


@disc('27-all-conform')
def _():
    return make_plan('Every station conforms', [face(), bore(), slot()], std_blade(), stations=12,
                     position={'tolerance': 0.2, 'zone': 'cylindrical', 'checkPoints': [{'name': 'root', 'at': [0, 0, 0]}, {'name': 'tip', 'at': [0, 0, 160]}]},
                     limits={'upset': 0.05, 'rotUpset': 0.002}), {'spread': CALM, 'hubDefects': (0.003, 2e-5), 'bladeDefects': (0.002, 1e-4)}


def only(*stations):
    return lambda rows: [r for r in rows if r['station'] is None or r['station'] in stations]


@disc('28-two-stations')
def _():
    return make_plan('Only stations 2 and 9 of 12 measured', [face(), bore(), slot()], std_blade(), stations=12), {'edit': only(2, 9)}


@disc('28b-two-opposite-stations')
def _():
    return make_plan('Only stations 3 and 9 of 12 measured: they lie opposite each other', [bore('A'), face('B'), slot('C')], std_blade(), stations=12, sense='clockwise'), {'edit': only(3, 9)}


@disc('28c-one-station')
def _():
    return make_plan('Only station 5 of 12 measured', [face(), bore(), slot()], std_blade(), stations=12), {'edit': only(5)}


@disc('28d-three-stations')
def _():
    return make_plan('A disc of three stations', [face(), bore(), slot()], std_blade(), stations=3, firstAngle=90), {}


@disc('29-fewest-points')
def _():
    hub = [face(n=3), bore(n=5), slot(n=3)]
    return make_plan('The fewest points each feature allows, face, bore and slot', hub, [seat_plane(n=3), side_plane(n=3), end_plane(n=3)], stations=8), {'seedShift': 5}


@disc('30-partial-arc')
def _():
    b = round_('cylinder', 'A', 'HUB-BORE', [0, 0, 0], [0, 0, 1], 70, {'len': (-48, -2), 'n': 40, 'arc': (20, 90)}, side='inside')
    pin = round_('cylinder', 'E', 'PIN', [-12, 3, 16], [0, 0, 1], 5, {'len': (-2, 8), 'n': 12, 'arc': (0, 60)}, side='outside')
    return make_plan('Bore seen over 70 degrees, pin over 60 degrees', [b, face('B'), slot('C')], [seat_plane(), pin, side_plane('F')], stations=8), {}


@disc('31-steep-angles')
def _():
    return (make_plan('Height angle 40, stagger 125 degrees, disc lying on its back in the machine', [face(), bore(), slot()], std_blade(), stations=9,
                      seat={'radius': 150, 'axial': -35, 'heightAngle': 40, 'staggerAngle': 125}),
            {'machine': {'rotation': [[1, 0, 0], [0, -1, 0], [0, 0, -1]], 'origin': [0, 0, 0]}})


@disc('32-face-downwards')
def _():
    """The hub face looks against the disc axis, as a rear face does; the nominal bore axis is given the other way round."""
    rear = plane('A', 'HUB-FACE', [0, 0, -40], [0, 0, -1], {'ring': (80, 110), 'at': [0, 0, -40], 'n': 20})
    b = round_('cylinder', 'B', 'HUB-BORE', [0, 0, 0], [0, 0, -1], 70, {'len': (2, 38), 'n': 20}, side='inside')
    return make_plan('Rear hub face and bore axis directed along -Z, tip centres', [rear, b, slot()], std_blade(), stations=9), {
        'roles': ['station', 'feature', 'x', 'y', 'z', 'r'], 'tip': lambda f: 2.0}


@disc('33-face-midplane-bore')
def _():
    return make_plan('Hub datums: face, slot mid-plane second, bore third', [face(), slot_mid('B'), bore('C')], std_blade(), stations=4), {'hubDefects': (0.02, 3e-4)}


@disc('33b-radial-pin')
def _():
    pin = round_('cylinder', 'C', 'HUB-PIN', [90, 0, -6], [1, 0, 0], 5, {'len': (-6, 6), 'n': 14}, side='outside')
    return make_plan('Hub datums: face, bore, a radial pin by location', [face(), bore(), pin], std_blade(), stations=4), {}


@disc('33c-ball-face-slot')
def _():
    return make_plan('Hub datums: ball, face, slot wall', [ball('A', 'HUB-BALL', [80, 30, 12]), face('B'), slot('C')], std_blade(), stations=4), {}


@disc('33d-three-skew-planes')
def _():
    hub = [plane('A', 'HUB-P1', [0, 0, 0], unit([0.1, 0, 1]).tolist(), {'ring': (80, 110), 'at': [0, 0, 0], 'n': 20}),
           plane('B', 'HUB-P2', [90, 0, -6], unit([0.2, 1, 0.3]).tolist(), {'at': [90, 0, -6], 'half': (12, 5), 'u': [1, 0, 0], 'n': 12}),
           plane('C', 'HUB-P3', [0, 90, -6], unit([1, -0.3, 0.1]).tolist(), {'at': [0, 90, -6], 'half': (12, 5), 'u': [0, 1, 0], 'n': 12})]
    return make_plan('Hub datums: three planes, no two square', hub, std_blade(), stations=4), {'hubDefects': (0.02, 3e-4)}


@disc('33e-bore-ball')
def _():
    return make_plan('Hub datums: bore, a ball for place along the axis and clocking', [bore('A'), ball('B', 'HUB-BALL', [80, 30, 12])], std_blade(), stations=4), {}


@disc('33f-face-hole-hole')
def _():
    one = round_('circle', 'B', 'HUB-HOLE-1', [90, 0, 0], [0, 0, 1], 6, {'n': 12}, side='inside')
    two = round_('circle', 'C', 'HUB-HOLE-2', [-90, 10, 0], [0, 0, 1], 6, {'n': 12}, side='inside')
    return make_plan('Hub datums: face, hole, hole', [face(), one, two], std_blade(), stations=4), {}


@disc('33g-blade-line-seat-side')
def _():
    line = ({'label': 'D', 'feature': 'AXIS', 'type': 'line', 'nominal': {'point': [0, 0, 40], 'direction': [0, 0, 1]}}, {'len': (-30, 30), 'n': 8})
    return make_plan('Blade datums: line along the stacking axis, seat, side', [face(), bore(), slot()], [line, seat_plane('E'), side_plane('F')], stations=4), {}


@disc('33h-blade-circle-side')
def _():
    rim = round_('circle', 'D', 'RIM', [0, 0, 30], [0, 0, 1], 12, {'n': 10}, side='outside')
    return make_plan('Blade datums: circle (plane and centre), side', [face(), bore(), slot()], [rim, side_plane('E')], stations=4), {}


@disc('33i-blade-seat-pin-tongue')
def _():
    tongue = ({'label': 'F', 'features': ['TONGUE-P', 'TONGUE-N'], 'type': 'midplane', 'nominal': {'point': [20, 0, 6], 'direction': [0, 1, 0]}},
              {'at': [20, 0, 6], 'half': (5, 4), 'u': [1, 0, 0], 'n': 6, 'width': 10, 'slot': False})
    pin = round_('cylinder', 'E', 'PIN', [-18, 0, 16], [0, 0, 1], 5, {'len': (-2, 8), 'n': 12}, side='outside')
    return make_plan('Blade datums: seat, pin, tongue mid-plane by location', [face(), bore(), slot()], [seat_plane(), pin, tongue], stations=4), {}
