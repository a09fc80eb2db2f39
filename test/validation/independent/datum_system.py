"""Datum system by group reduction: which rotations and translations are still free, about which pivot."""
import numpy as np

from associations import ALTERNATIVES, associate, gather
from rotations import lunit, orthonormal, shortest, turn

L = np.longdouble


class DatumFault(Exception):
    pass


DEFAULT_CLOCKING = {'plane': 'direction', 'line': 'direction'}


def datum_frame(datums, blocks, station, rough):
    """Rigid motion (R, t), measured = R·nominal + t, that carries the nominal datums onto the measured ones.

    State: `turns` is 'all' (any rotation), a unit axis (rotation about it), or None; `slides` spans the free
    translations; `pivot` is the point about which the free rotations turn once it is determined.
    """
    R, t = (np.asarray(rough[0], dtype=L), np.asarray(rough[1], dtype=L))
    turns, slides, pivot = 'all', np.eye(3, dtype=L), None
    report = []

    def rotate(Q, about):
        nonlocal R, t
        c = about if about is not None else np.zeros(3, dtype=L)
        R, t = orthonormal(Q @ R), Q @ (t - c) + c

    for datum in datums:
        nom = datum['nominal']
        d = None if nom.get('direction') is None else lunit(nom['direction'])
        if datum['type'] in ('sphere', 'point'):
            d = None
        p = np.asarray(nom['point'], dtype=L)
        clock = datum.get('clocking') or DEFAULT_CLOCKING.get(datum['type'], 'location')
        if d is None:
            spec = {}
        elif isinstance(turns, str):
            spec = {'free': R @ d}
        elif turns is None or np.sqrt(np.sum(np.cross(turns, R @ d) ** 2)) < 1e-9:
            spec = {'fixed': R @ d}
        else:
            spec = {'about': turns, 'start': R @ d}
        if datum['type'] == 'circle' and 'circle-own-plane' in ALTERNATIVES:
            spec = {'free': R @ d}
        parts = gather(datum, blocks, station)
        fit = associate(datum, parts, spec)
        report.append(fit)
        n, m = fit['direction'], fit['point']
        added = False

        # 1. directions
        if d is not None and datum['type'] != 'circle':
            if isinstance(turns, str):
                rotate(shortest(R @ d, n), pivot)
                turns, added = n, True
            elif turns is not None and 'about' in spec and (clock == 'direction' or pivot is None):
                before = R @ d
                a = lunit(turns)
                pa, pb = before - (a @ before) * a, n - (a @ n) * a
                rotate(turn(a, np.arctan2(a @ np.cross(pa, pb), pa @ pb)), pivot)
                turns, added = None, True
        elif datum['type'] == 'circle' and isinstance(turns, str):
            rotate(shortest(R @ d, n), pivot)
            turns, added = n, True

        # 2. translations that the feature can see and that are still free
        if datum['type'] in ('plane', 'midplane'):
            P = np.outer(n, n)
        elif datum['type'] in ('line', 'cylinder'):
            P = np.eye(3, dtype=L) - np.outer(n, n)
        else:
            P = np.eye(3, dtype=L)
        location_clock = turns is not None and not isinstance(turns, str) and pivot is not None
        if slides.shape[1] > 0:
            A = np.asarray(P @ slides, dtype=float)
            U, s, Vt = np.linalg.svd(A)
            rank = int(np.sum(s > 1e-9)) if len(s) else 0
            if rank:
                e = P @ (m - (R @ p + t))
                tau = Vt[:rank].T @ ((U[:, :rank].T @ np.asarray(e, dtype=float)) / s[:rank])
                t = t + slides @ tau
                # once more for the last digits
                e = P @ (m - (R @ p + t))
                tau = Vt[:rank].T @ ((U[:, :rank].T @ np.asarray(e, dtype=float)) / s[:rank])
                t = t + slides @ tau
                slides = slides @ np.asarray(Vt[rank:].T, dtype=L)
                added = True
                # the pivot is known as soon as no free translation moves it off its axis
                if turns is not None and pivot is None:
                    if isinstance(turns, str):
                        if slides.shape[1] == 0:
                            pivot = m
                    else:
                        across = slides - np.outer(turns, turns @ slides)
                        if slides.shape[1] == 0 or np.max(np.abs(across)) < 1e-9:
                            pivot = m

        # 3. a rotation that is still free, set by the place of the feature about the pivot
        if turns is not None and pivot is not None and (isinstance(turns, str) or location_clock or datum['type'] in ('sphere', 'point')):
            arm = R @ p + t - pivot
            if isinstance(turns, str):
                if datum['type'] in ('sphere', 'point') and np.sqrt(arm @ arm) > 1e-6:
                    rotate(shortest(lunit(arm), lunit(m - pivot)), pivot)
                    turns, added = lunit(m - pivot), True
            else:
                a = lunit(turns)
                flat_arm = arm - (a @ arm) * a
                if clock == 'location' and np.sqrt(flat_arm @ flat_arm) > 1e-6:
                    across_axis = datum['type'] in ('line', 'cylinder', 'cone') and np.sqrt(np.sum(np.cross(a, n) ** 2)) > 1e-6
                    if across_axis:
                        # an axis across the datum axis clocks like the plane through it that is parallel to the datum axis
                        n = lunit(np.cross(a, n))
                    if datum['type'] in ('plane', 'midplane') or across_axis:
                        # the carried nominal point must lie on the measured plane: n·(Q(ψ)·arm) = n·(m − pivot)
                        A0, B0 = n @ flat_arm, n @ np.cross(a, flat_arm)
                        C0 = n @ (m - pivot) - (a @ arm) * (n @ a)
                        base, amp = np.arctan2(B0, A0), np.hypot(A0, B0)
                        roots = [base + k * np.arccos(C0 / amp) for k in (1, -1)]
                        pi = 4 * np.arctan(L(1))
                        roots = [r - 2 * pi * np.round(r / (2 * pi)) for r in roots]
                        angle = min(roots, key=abs)
                        rotate(turn(a, angle), pivot)
                        turns, added = None, True
                    else:
                        g = m - pivot
                        g = g - (a @ g) * a
                        rotate(turn(a, np.arctan2(a @ np.cross(flat_arm, g), flat_arm @ g)), pivot)
                        turns, added = None, True
        if not added:
            raise DatumFault(f"datum {datum['label']} adds no freedom")
    if turns is not None or slides.shape[1]:
        raise DatumFault(f'freedom left open: turns {turns}, slides {slides.shape[1]}')
    return R, t, report
