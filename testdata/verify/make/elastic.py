"""Linear elasticity on quadratic tetrahedra: K u = f, K assembled by GetFEM,
factorised by MUMPS (symmetric positive definite), one factor for all loads.

Lengths in mm, forces in N, stresses in MPa, density in kg/m3, frequencies in Hz.
"""
import ctypes

import getfem as gf
import numpy as np
import scipy.sparse.linalg as sla

gf.util('warning level', 0)


class _Mumps(ctypes.Structure):
    """The head of DMUMPS_STRUC_C of MUMPS 5.5, as far as it is used here."""
    _i, _l, _d, _p = ctypes.c_int, ctypes.c_int64, ctypes.c_double, ctypes.c_void_p
    _fields_ = [
        ('sym', _i), ('par', _i), ('job', _i), ('comm', _i), ('icntl', _i * 60), ('keep', _i * 500),
        ('cntl', _d * 15), ('dkeep', _d * 230), ('keep8', _l * 150), ('n', _i), ('nblk', _i),
        ('nz_alloc', _i), ('nz', _i), ('nnz', _l), ('irn', _p), ('jcn', _p), ('a', _p),
        ('nz_loc', _i), ('nnz_loc', _l), ('irn_loc', _p), ('jcn_loc', _p), ('a_loc', _p),
        ('nelt', _i), ('eltptr', _p), ('eltvar', _p), ('a_elt', _p), ('blkptr', _p), ('blkvar', _p),
        ('perm_in', _p), ('sym_perm', _p), ('uns_perm', _p), ('colsca', _p), ('rowsca', _p),
        ('colsca_from', _i), ('rowsca_from', _i), ('rhs', _p), ('redrhs', _p), ('rhs_sparse', _p),
        ('sol_loc', _p), ('rhs_loc', _p), ('irhs_sparse', _p), ('irhs_ptr', _p), ('isol_loc', _p),
        ('irhs_loc', _p), ('nrhs', _i), ('lrhs', _i), ('lredrhs', _i), ('nz_rhs', _i), ('lsol_loc', _i),
        ('nloc_rhs', _i), ('lrhs_loc', _i), ('schur', _i * 3), ('blocks', _i * 4), ('info', _i * 80),
        ('infog', _i * 80), ('tail', ctypes.c_char * 8192)]


class Factor:
    """Cholesky factor of a sparse symmetric positive definite matrix."""
    _lib = ctypes.CDLL('libdmumps_seq-5.5.so')

    def __init__(self, matrix):
        low = matrix.tocoo()
        keep = low.row >= low.col
        self.rows = (low.row[keep] + 1).astype(np.int32)
        self.cols = (low.col[keep] + 1).astype(np.int32)
        self.values = np.ascontiguousarray(low.data[keep])
        m = self.m = _Mumps()
        m.sym, m.par, m.comm = 1, 1, -987654
        self._call(-1)
        for k in (0, 1, 2, 3):
            m.icntl[k] = 0  # no printing
        m.icntl[13] = 60  # room for estimates that were low, percent
        m.n, m.nnz = matrix.shape[0], len(self.values)
        m.irn, m.jcn, m.a = (x.ctypes.data for x in (self.rows, self.cols, self.values))
        self._call(4)

    def _call(self, job):
        self.m.job = job
        self._lib.dmumps_c(ctypes.byref(self.m))
        if self.m.infog[0] < 0:
            raise RuntimeError('MUMPS: %d, %d' % (self.m.infog[0], self.m.infog[1]))

    def solve(self, f):
        """Solutions for the columns of f."""
        u = np.array(f, dtype=float, order='F').reshape(self.m.n, -1, order='F')
        self.m.nrhs, self.m.lrhs, self.m.rhs = u.shape[1], self.m.n, u.ctypes.data
        self._call(3)
        return u.reshape(np.shape(f), order='F')

    def free(self):
        self._call(-2)


class Body:
    """A mesh file of quadratic tetrahedra with its stiffness, ready to be held."""

    def __init__(self, path, young, poisson):
        self.mesh = gf.Mesh('import', 'gmsh', path)
        self.points = self.mesh.pts()
        self.outer = self.mesh.outer_faces()
        self.mf = gf.MeshFem(self.mesh, 3)
        self.mf.set_fem(gf.Fem('FEM_PK(3,2)'))
        self.scalar = gf.MeshFem(self.mesh, 1)
        self.scalar.set_fem(gf.Fem('FEM_PK(3,2)'))
        self.mim = gf.MeshIm(self.mesh, gf.Integ('IM_TETRAHEDRON(5)'))
        self.flat = gf.MeshFem(self.mesh, 1)
        self.flat.set_fem(gf.Fem('FEM_PK(3,0)'))
        one = np.ones(self.flat.nbdof())
        self.lam = young * poisson / (1 + poisson) / (1 - 2 * poisson)
        self.mu = young / 2 / (1 + poisson)
        self.K = _csc(gf.asm_linear_elasticity(self.mim, self.mf, self.flat, self.lam * one, self.mu * one))
        self.regions = 0

    def volume(self):
        return float(np.sum(gf.asm_volumic_source(self.mim, self.scalar, self.flat, np.ones((1, self.flat.nbdof())))))

    def region(self, inside):
        """The outer faces all of whose corners and middles satisfy inside(points 3 x n)."""
        faces = self.mesh.faces_from_pid(np.where(inside(self.points))[0])
        key = lambda f: f[0].astype(np.int64) * 8 + f[1]
        faces = faces[:, np.isin(key(faces), key(self.outer))]
        if faces.shape[1] == 0:
            raise ValueError('a place without faces')
        self.regions += 1
        self.mesh.set_region(self.regions, faces)
        return self.regions

    def spread(self, region):
        """Nodal shares of a unit force spread evenly over a region, and its area."""
        share = gf.asm_boundary_source(region, self.mim, self.scalar, self.flat, np.ones((1, self.flat.nbdof())))
        area = float(np.sum(share))
        return share / area, area

    def middle(self, region):
        """The centroid of a region."""
        share, _ = self.spread(region)
        return self.scalar.basic_dof_nodes() @ share

    def hold(self, regions):
        """The body with every displacement of the regions zero."""
        fixed = np.unique(np.concatenate([self.mf.basic_dof_on_region(r) for r in regions]))
        return Held(self, np.setdiff1d(np.arange(self.mf.nbdof()), fixed))


class Held:
    def __init__(self, body, free):
        self.body, self.free = body, free
        self.factor = Factor(body.K[free][:, free])

    def solve(self, shares):
        """Displacements (dofs x 3) under unit forces along x, y, z with these nodal
        shares, and the compliance 3 x 3: C = f^T u, mm/N."""
        f = np.zeros((self.body.mf.nbdof(), 3))
        for a in range(3):
            f[a::3, a] = shares
        u = np.zeros_like(f)
        u[self.free] = self.factor.solve(f[self.free])
        return u, f.T @ u

    def frequencies(self, density, count):
        """The lowest natural frequencies, Hz."""
        M = _csc(gf.asm_mass_matrix(self.body.mim, self.body.mf))[self.free][:, self.free] * density * 1e-6
        op = sla.LinearOperator(M.shape, matvec=lambda x: self.factor.solve(x))
        K = self.body.K[self.free][:, self.free]
        values = sla.eigsh(K, count, M, sigma=0, which='LM', OPinv=op, return_eigenvectors=False, tol=1e-8)
        return np.sort(1e3 * np.sqrt(values) / 2 / np.pi)

    def peak(self, u, near):
        """Largest von Mises stress (MPa) at the nodes of the surface inside near(points),
        the tensor averaged over the elements that meet there, and its place."""
        dis = gf.MeshFem(self.body.mesh, 1)
        dis.set_fem(gf.Fem('FEM_PK_DISCONTINUOUS(3,1)'))
        at = dis.basic_dof_nodes()
        grad = gf.compute_gradient(self.body.mf, np.ascontiguousarray(u), dis)
        corners = self.body.mesh.pts(self.body.mesh.pid_in_faces(self.body.outer))
        surface = {tuple(np.round(p, 6)) for p in corners[:, near(corners)].T}
        pick = np.where(near(at))[0]
        sums = {}
        for i in pick:
            k = tuple(np.round(at[:, i], 6))
            if k in surface:
                s = sums.setdefault(k, [np.zeros((3, 3)), 0])
                s[0] += grad[:, :, i]
                s[1] += 1
        best, where = 0.0, None
        for k, (g, n) in sums.items():
            e = (g + g.T) / 2 / n
            s = self.body.lam * np.trace(e) * np.eye(3) + 2 * self.body.mu * e
            d = s - np.trace(s) / 3 * np.eye(3)
            v = np.sqrt(1.5 * np.sum(d * d))
            if v > best:
                best, where = v, k
        return float(best), [float(x) for x in where]

    def free_memory(self):
        self.factor.free()


def _csc(m):
    import scipy.sparse as sp
    m.to_csc()
    jc, ir = m.csc_ind()
    return sp.csc_matrix((m.csc_val(), ir, jc), shape=m.size())
