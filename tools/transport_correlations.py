"""Published transport correlations that CoolProp 8.0.0 lacks, as references for tools/transcribe_transport.py.

The numbers are those of the cited papers, transcribed through pychemqt, an open general-purpose library. Each
is held to values that its paper prints: `python3 tools/transport_correlations.py` says how near it comes.
A correlation takes a tools/transport_method.py Reference, T in K and rho in mol/m3.
"""

import math

import transport_method as method

# Second viscosity virial coefficient of the Lennard-Jones gas [vogel1998]: sum b T*^t.
VIRIAL_B = [-19.572881, 219.73999, -1015.3226, 2471.01251, -3375.1717, 2491.6597, -787.26086, 14.085455, -0.34664158]
VIRIAL_T = [0, -0.25, -0.5, -0.75, -1, -1.25, -1.5, -2.5, -5.5]


def polynomial(coefficients, x):
    return sum(c * x ** i for i, c in enumerate(coefficients))


def with_virial(eta0, epsilon, sigma_nm, T, rho):
    """eta0 (1 + N_A sigma^3 B* rho)."""
    B = sum(b * (T / epsilon) ** t for b, t in zip(VIRIAL_B, VIRIAL_T))
    return eta0 * (1 + method.AVOGADRO * (sigma_nm * 1e-9) ** 3 * B * rho)


def collision_viscosity(M_gram, T, epsilon, sigma_nm, a):
    ln = math.log(T / epsilon)
    return 0.021357 * math.sqrt(M_gram * T) / (sigma_nm ** 2 * math.exp(polynomial(a, ln)))


def r1234yf_viscosity(reference, T, rho):
    """[huber2016b]"""
    eta0 = polynomial([-836950, 6336.28, -2.3547, 0.0395563], T) / polynomial([39509.1, 121.018, 1], T)
    T_r, rho_r = T / 367.85, rho * 0.1140415928 / 475.553441976
    rest = rho_r ** (2 / 3) * math.sqrt(T_r) * (
        -0.19425910 - 2.079577245 * rho_r - 43.47027288 * rho_r / (-3.53682791 * T_r + T_r * rho_r))
    return 1e-6 * (with_virial(eta0, 275, 0.531, T, rho) + rest)


def r161_viscosity(reference, T, rho):
    """[tsolakidou2017]"""
    eta0 = collision_viscosity(48.0595, T, 320.39, 0.4457, [0.24130, -0.45])
    T_r, rho_r = T / 375.25, rho * 0.0480595 / 302.001
    rest = rho_r ** (2 / 3) * math.sqrt(T_r) * (
        -10.28373 + 7.65563 * rho_r + 4.842 * T_r ** 2 + 0.42223 * rho_r ** 4
        + 64.34983 * (T_r + rho_r) / (10.99213 * T_r ** 2 - T_r ** 2 * rho_r ** 2))
    return 1e-6 * (with_virial(eta0, 320.39, 0.4457, T, rho) + rest)


def r717_viscosity(reference, T, rho):
    """[monogenidou2018]"""
    eta0 = collision_viscosity(17.03052, T, 386, 0.2957, [0.39175, -0.59918, -0.00022, 0.19871, -0.06942])
    T_r, rho_r = T / 405.56, rho * 0.01703026 / 233.25
    rest = rho_r ** (2 / 3) * math.sqrt(T_r) * (
        0.0393308 + 16.724735 * rho_r + 1.1975934 * rho_r ** 4 + 0.0016995 * T_r ** -4 * rho_r ** 8
        - 4.2399794 * T_r * rho_r ** 2)
    return 1e-6 * (with_virial(eta0, 386, 0.2957, T, rho) + rest)


def residual_conductivity(T_r, rho_r, constant, of_T):
    return sum((a + b * T_r) * rho_r ** i for i, (a, b) in enumerate(zip(constant, of_T), 1))


def enhancement(reference, T, rho, eta, phi0, Gamma, one_over_q_D, T_far, critical=None):
    component = {"conductivity": {"critical": {"phi0_m": phi0, "Gamma": Gamma, "q_D_per_m": 1 / one_over_q_D,
                                               "T_far_K": T_far}}}
    if T >= T_far:
        return 0.0
    return method.enhancement([component], [1.0], T, rho, eta, reference.near(T, rho, T_far, critical))


def r161_conductivity(reference, T, rho):
    """[tsolakidou2017]"""
    T_r, rho_r = T / 375.25, rho * 0.0480595 / 302.001
    dilute = (polynomial([7.96804, -12.5874, -26.3743, 16.9894, 127.545, -32.548], T_r)
              / polynomial([5.406, -18.8331, 24.868, -9.14139, 1], T_r))
    rest = residual_conductivity(T_r, rho_r, [-8.41553, -39.7744, 106.179, -53.2351, 8.23094],
                                 [7.41456, 44.0586, -81.9833, 37.6052, -4.90293])
    eta = r161_viscosity(reference, T, rho)
    return 1e-3 * (dilute + rest) + enhancement(reference, T, rho, eta, 0.183e-9, 0.055, 3.104e-10, 562.88)


def r717_conductivity(reference, T, rho):
    """[monogenidou2018b]"""
    T_r, rho_r = T / 405.56, rho * 0.01703026 / 233.25
    dilute = 1e-3 * (polynomial([86.9294, -170.5502, 608.0287, -100.9764, 85.1986], T_r)
                     / polynomial([4.68994, 9.21307, -1.53637, 1], T_r))
    rest = residual_conductivity(T_r, rho_r, [0.103432, -0.112597, 0.233301, -0.112536, 0.0141129],
                                 [-0.0283976, 0.048252, -0.0644124, 0.00529376, 0.00891203])
    eta = r717_viscosity(reference, T, rho)
    return dilute + rest + enhancement(reference, T, rho, eta, 0.14e-9, 0.053, 0.4e-9, 608.34)


def r1233zde_conductivity(reference, T, rho):
    """[perkins2017]; its enhancement with the viscosity of the scaling, which it needs to 20 % only."""
    T_r, rho_r = T / 439.6, rho * 0.1304944 / 480.219
    dilute = polynomial([-0.0140033, 0.037816, -0.00245832], T_r)
    rest = residual_conductivity(T_r, rho_r, [0.00862816, -0.0208988, 0.0511968, -0.0349076, 0.00975727, -0.000926484],
                                 [0.000914709, -0.00407914, 0.00845668, -0.0108985, 0.00538262, -0.000806009])
    return dilute + rest + enhancement(reference, T, rho, scaled_viscosity("R1233zd(E)", reference, T, rho),
                                       0.213e-9, 0.059, 0.598e-9, 659.4)


def r1336mzzz_conductivity(reference, T, rho):
    """[perkins2020]"""
    T_r, rho_r = T / 444.5, rho * 0.164056 / 499.386464
    dilute = 1e-3 * math.sqrt(T_r) / (0.033207 - 0.089513 * T_r ** -0.5 + 0.101275 / T_r)
    rest = residual_conductivity(T_r, rho_r, [0.018267, 0.105672, -0.119719, 0.0431845, -0.00497023],
                                 [-0.0138014, -0.0756253, 0.0919892, -0.0327931, 0.00384035])
    return dilute + rest + enhancement(reference, T, rho, scaled_viscosity("R1336mzz(Z)", reference, T, rho),
                                       0.221e-9, 0.058, 0.955e-9, 666.75)


def r1270_conductivity(reference, T, rho):
    """[assael2016]"""
    T_r, rho_r = T / 364.211, rho * 0.04207974 / 229.63
    dilute = polynomial([-1.37218, 17.3386, -3.27682, 9.34452, 12.88, -1.5705], T_r) / polynomial([1.39367, -1.04648, 1], T_r)
    rest = residual_conductivity(T_r, rho_r, [2.71511, -36.3839, 106.159, -61.6755, 10.5424],
                                 [9.94697, 24.2705, -65.9429, 37.9916, -5.6912])
    return 1e-3 * (dilute + rest) + enhancement(reference, T, rho, scaled_viscosity("R1270", reference, T, rho),
                                                0.198e-9, 0.057, 0.43e-9, 546.32)


def r1150_conductivity(reference, T, rho):
    """[assael2016]"""
    T_r, rho_r = T / 282.35, rho * 0.02805316 / 214.24
    dilute = (polynomial([-54.1761, 541.904, -656.108, 667.048, -109.992, 60.6511, -1.01377], T_r)
              / polynomial([26.5363, -20.1401, 19.4152, -2.92695, 1], T_r))
    rest = residual_conductivity(T_r, rho_r, [26.1453, -21.8619, 36.2068, -13.6642, 1.84752],
                                 [-11.3225, 26.9282, -22.3164, 3.90241, 0.668286])
    return 1e-3 * (dilute + rest) + enhancement(reference, T, rho, r1150_viscosity(reference, T, rho),
                                                0.181e-9, 0.058, 0.49e-9, 423.525)


def r1150_viscosity(reference, T, rho):
    """[sotiriadou2024] without its small critical part."""
    T_r, rho_r = T / 282.35, rho * 0.02805316 / 214.24
    eta0 = polynomial([0.785697, 22.0478, -12.8383, 48.5252, 3.04377], T_r) / polynomial([2.48645, -0.890015, 3.73, 1], T_r)
    rest = rho_r ** (2 / 3) * math.sqrt(T_r) * (
        0.472702 + 4.53829 * rho_r + 0.286355 * rho_r ** 5 + 1.02697 * T_r ** -5 * rho_r
        + (4.95728 * rho_r + 3.99433 * rho_r ** 2) / T_r - 3.30440 * rho_r ** 2)
    return 1e-6 * (with_virial(eta0, 247, 0.405, T, rho) + rest)


def scaled_viscosity(name, reference, T, rho):
    """Of the method itself, with the published curve: enough for the enhancement's denominator."""
    import transport_tables as tables
    epsilon, sigma = tables.LENNARD_JONES[name]
    row = tables.VISCOSITY[name]
    component = {"molar_mass_kg_per_mol": reference.M, "epsilon_over_k_K": epsilon, "sigma_angstrom": sigma,
                 "viscosity": {"xi": row[0], "n": row[1:]}}
    return method.viscosity([component], [1.0], T, rho, max(reference.s_plus(T, rho), 1e-9))


# Key of the paper and the correlation.
VISCOSITY = {"R1234yf": ("huber2016b", r1234yf_viscosity), "R161": ("tsolakidou2017", r161_viscosity),
             "R717": ("monogenidou2018", r717_viscosity), "R1150": ("sotiriadou2024", r1150_viscosity)}
CONDUCTIVITY = {"R161": ("tsolakidou2017", r161_conductivity), "R717": ("monogenidou2018b", r717_conductivity),
                "R1233zd(E)": ("perkins2017", r1233zde_conductivity),
                "R1336mzz(Z)": ("perkins2020", r1336mzzz_conductivity),
                "R1270": ("assael2016", r1270_conductivity), "R1150": ("assael2016", r1150_conductivity)}

# Printed by the papers: correlation, name in the library, T, rho in kg/m3 (or mol/m3 where so), value.
PRINTED = [
    (r1234yf_viscosity, "R1234yf", 300, 0.0, 11.579e-6), (r1234yf_viscosity, "R1234yf", 300, 44 * 0.1140415928, 11.549e-6),
    (r1234yf_viscosity, "R1234yf", 300, 10522 * 0.1140415928, 217.97e-6),
    (r161_viscosity, "R161", 250, 0.0, 8.280e-6), (r161_viscosity, "R161", 250, 1.0, 8.255e-6),
    (r161_viscosity, "R161", 250, 850.0, 308.22e-6), (r161_viscosity, "R161", 375, 229.0, 20.859e-6),
    (r161_conductivity, "R161", 250, 1.0, 9.884e-3), (r161_conductivity, "R161", 250, 850.0, 175.48e-3),
    (r717_viscosity, "Ammonia", 300, 0.0, 10.1812e-6), (r717_viscosity, "Ammonia", 300, 8.0, 9.9219e-6),
    (r717_viscosity, "Ammonia", 300, 609.0, 133.3937e-6),
    (r717_conductivity, "Ammonia", 390, 1e-6, 35.969501e-3), (r717_conductivity, "Ammonia", 390, 415.0, 264.145394e-3),
    (r1233zde_conductivity, "R1233zd(E)", 300, 1e-6, 0.010659), (r1233zde_conductivity, "R1233zd(E)", 300, 5.4411, 0.010766),
    (r1233zde_conductivity, "R1233zd(E)", 300, 1308.8, 0.091409), (r1233zde_conductivity, "R1233zd(E)", 445, 168.52, 0.026044),
    (r1336mzzz_conductivity, "R1336mzz(Z)", 300, 1e-6, 0.011056), (r1336mzzz_conductivity, "R1336mzz(Z)", 300, 1363.0, 0.078701),
    (r1336mzzz_conductivity, "R1336mzz(Z)", 450, 500.0, 0.053990),
    (r1270_conductivity, "Propylene", 300, 1e-6, 17.55e-3), (r1270_conductivity, "Propylene", 350, 385.0, 81.48e-3),
]


def main():
    for correlation, library_name, T, rho, printed in PRINTED:
        reference = method.Reference(library_name)
        ours = correlation(reference, float(T), rho / reference.M)
        print(f"{correlation.__name__:24} {T:5} K {rho:10.4f} kg/m3: {ours:.6g}, printed {printed:.6g}, {100 * (ours / printed - 1):+.3f} %")


if __name__ == "__main__":
    main()
