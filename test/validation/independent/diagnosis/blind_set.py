"""The discs with planted causes. Lengths mm, rotations rad, phases degrees.

`leading`: the components that may rightly be called leading (None: there is nothing to find). A constant tool offset may
surface as `common` because an offset along or about the axis is the same error.
"""
from causes import ARCSEC

BUDGET = {'toolSetup': 0.012, 'index': 0.012, 'frame': 0.01, 'wear': 0.005, 'toolChange': 0.008, 'scatter': 0.02}


def one(n, **more):
    return {'tools': [('T1', n)], **more}


SET = [
    dict(name='01-ring-shift', about='Ring sits off the bore', N=18, ring=[0.018, -0.012, 0, 0, 0, 0], welds=one(18), budget=BUDGET, leading=['ringShift']),
    dict(name='02-ring-tilt', about='Ring tilted against the face; clockwise', N=12, hub='turned-slot', sense='clockwise', firstAngle=12.5,
         ring=[0, 0, 0, 6e-5, 9e-5, 0], leading=['ringShift']),
    dict(name='03-tool-offset', about='Constant tool offset, best fit, no welds file', N=16, pose='bestfit', tools={'': [0.012, 0.016, 0.02, 1.2e-4, -6e-5, 1e-4]},
         leading=['toolSetup', 'common']),
    dict(name='04-axial-clocking', about='Blades sit high and clocked', N=10, ring=[0, 0, 0.024, 0, 0, 1.6e-4], budget=BUDGET, welds=one(10), leading=['common']),
    dict(name='05-tool-change', about='Second tool set differently', N=14, welds={'tools': [('K1', 7), ('K2', 7)]},
         tools={'K1': [0] * 6, 'K2': [0.018, -0.01, 0.012, 0, 1.2e-4, 0]}, budget=BUDGET, leading=['toolChange']),
    dict(name='06-three-tools', about='Three tools, each set differently', N=20, sense='clockwise', welds={'tools': [('T10', 7), ('T9', 7), ('T11', 6)]},
         tools={'T10': [0] * 6, 'T9': [0, 0.02, 0, 1e-4, 0, 0], 'T11': [0.02, 0, -0.01, 0, 0, 2e-4]}, leading=['toolChange']),
    dict(name='07-wear', about='Wear of one tool', N=16, welds=one(16), wear=[0, 0.0014, 0.001, 6e-6, 0, 0], budget=BUDGET, leading=['wear']),
    dict(name='08-wear-two-tools', about='Wear with two tools set alike; sequence counts in tens', N=18, welds={'tools': [('A', 10), ('B', 8)], 'first': 10, 'every': 10},
         wear=[0.002, 0, 0.0012, 0, -8e-6, 0], leading=['wear']),
    dict(name='09-index-eccentric', about='Eccentric index table', N=18, welds=one(18), index=[(1, 16 * ARCSEC, 70)], budget=BUDGET, leading=['index']),
    dict(name='10-index-second', about='Second harmonic of the index table', N=12, firstAngle=7, index=[(2, 18 * ARCSEC, -40)], leading=['index']),
    dict(name='11-wrong-index-station', about='One station indexed wrongly', N=15, indexAt={9: 45 * ARCSEC}, welds=one(15), leading=['index', None], standsApart=[9]),
    dict(name='12-slipped', about='One blade slipped by 80 micrometres', N=12, slipped={5: [0.08, 0.01, -0.01, 0, 1e-4, -3e-4]}, welds=one(12), leading=[None]),
    dict(name='13-two-slipped-and-ring', about='Two blades slipped on an off-centre ring', N=20, sense='clockwise', ring=[-0.016, 0.014, 0, 2e-5, 0, 0],
         slipped={4: [0.07, 0, 0, 0, 0, -4e-4], 15: [0, -0.09, 0.02, 3e-4, 0, 0]}, welds=one(20), budget=BUDGET, leading=['ringShift']),
    dict(name='14-three-lobed', about='Ring pressed three-lobed', N=17, harmonics=[('radial', 3, 0.014, 25)], leading=['harmonics']),
    dict(name='15-scatter', about='Scatter only', N=18, welds={'tools': [('T1', 9), ('T2', 9)]}, budget=BUDGET, leading=[None]),
    dict(name='16-scatter-six', about='Scatter only, six stations, clockwise', N=6, sense='clockwise', welds=one(6), leading=[None]),
    dict(name='17-hub-noise', about='Nothing but a noisily probed hub', N=14, hubNoise=0.008, welds=one(14), leading=[None], hub='bore-first'),
    dict(name='18-hub-noise-and-ring', about='Ring shift beside a noisily probed hub', N=14, hubNoise=0.005, ring=[0.03, 0.02, 0, 0, 0, 0], leading=['ringShift']),
    dict(name='19-uneven-pitch', about='Uneven pitch, eccentric index table, ring shift', N=11, angles=[2, 31, 65, 99, 128, 162.5, 190, 221, 255, 288, 320],
         ring=[0.004, 0.006, 0, 0, 0, 0], index=[(1, 18 * ARCSEC, 200)], leading=['index'], welds=one(11)),
    dict(name='20-missing-stations', about='Four stations not measured; wear counts their welds', N=18, missing=[2, 3, 9, 14], welds=one(18),
         wear=[0.0015, 0, 0.0012, 0, 0, 0], leading=['wear']),
    dict(name='21-everything', about='Ring shift, tool offset, change, wear and eccentric table at once', N=20, ring=[0.022, 0.012, 0, 0, 3e-5, 0],
         welds={'tools': [('A', 10), ('B', 10)]}, tools={'A': [0, 0.012, 0, 0, 0, 0], 'B': [0, 0.002, 0.01, 0, 0, 0]}, wear=[0.0007, 0, 0, 0, 0, 0],
         index=[(1, 7 * ARCSEC, 10)], budget=BUDGET, leading=['ringShift']),
    dict(name='22-six-two-tools', about='Six stations, two tools', N=6, welds={'tools': [('X', 3), ('Y', 3)], 'order': [1, 4, 2, 5, 3, 6]},
         tools={'X': [0] * 6, 'Y': [0, 0.04, 0.02, 2e-4, 0, 0]}, leading=['toolChange'], mustFind=[]),
    dict(name='23-one-weld-second-tool', about='The last weld alone with a second tool, set differently', N=10, welds={'tools': [('X', 9), ('Y', 1)]},
         tools={'X': [0] * 6, 'Y': [0, 0.05, 0, 0, 0, 0]}, leading=['toolChange', None], mustFind=[]),
    dict(name='24-two-seats', about='Two rows of blades at different seats: tool offset and axial shift differ', N=16,
         overrides={str(k): {'seat': {'radius': 200, 'axial': -30, 'heightAngle': -8, 'staggerAngle': 55}} for k in range(2, 17, 2)},
         tools={'': [0.02, 0, 0.01, 0, 0, 0]}, ring=[0, 0, 0.004, 0, 0, 0], leading=['toolSetup']),
    dict(name='25-tiny', about='Ring shift of one micrometre without any scatter, fine probing', N=12, noise=0.0001, scatter=(0, 0), scale=0, ring=[0.001, 0, 0, 0, 0, 0],
         leading=['ringShift']),
    dict(name='26-index-direction', about='Clockwise; random index error beside a ring shift; pins; spherical zone', N=16, blade='pin', sense='clockwise', firstAngle=-20, tau=6 * ARCSEC,
         ring=[0.015, 0.015, 0, 0, 0, 0], pose='bestfit', position={'tolerance': 0.08, 'zone': 'spherical', 'checkPoints': [{'name': 'tip', 'at': [5, 2, 130]}]},
         welds=one(16), leading=['ringShift']),
]
