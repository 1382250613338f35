package steam

// Liquid water, IAPWS R7-97(2012), region 1: the Gibbs energy of equation 7 with the coefficients
// of table 2. Valid from 273.15 to 623.15 K up to 100 MPa; this package stays on the saturation line.
//
// Check (table 5): 300 K and 3 MPa give v = 0.100215168e-2 m3/kg, h = 115.331273 kJ/kg.

// gasConstant of water, kJ/(kg K), as the release states it.
const gasConstant = 0.461526

type term struct {
	i, j int
	n    float64
}

var liquidTerms = [...]term{
	{0, -2, 1.4632971213167e-01},
	{0, -1, -8.4548187169114e-01},
	{0, 0, -3.7563603672040e+00},
	{0, 1, 3.3855169168385e+00},
	{0, 2, -9.5791963387872e-01},
	{0, 3, 1.5772038513228e-01},
	{0, 4, -1.6616417199501e-02},
	{0, 5, 8.1214629983568e-04},
	{1, -9, 2.8319080123804e-04},
	{1, -7, -6.0706301565874e-04},
	{1, -1, -1.8990068218419e-02},
	{1, 0, -3.2529748770505e-02},
	{1, 1, -2.1841717175414e-02},
	{1, 3, -5.2838357969930e-05},
	{2, -3, -4.7184321073267e-04},
	{2, 0, -3.0001780793026e-04},
	{2, 1, 4.7661393906987e-05},
	{2, 3, -4.4141845330846e-06},
	{2, 17, -7.2694996297594e-16},
	{3, -4, -3.1679644845054e-05},
	{3, 0, -2.8270797985312e-06},
	{3, 6, -8.5205128120103e-10},
	{4, -5, -2.2425281908000e-06},
	{4, -2, -6.5171222895601e-07},
	{4, 10, -1.4341729937924e-13},
	{5, -8, -4.0516996860117e-07},
	{8, -11, -1.2734301741641e-09},
	{8, -6, -1.7424871230634e-10},
	{21, -29, -6.8762131295531e-19},
	{23, -31, 1.4478307828521e-20},
	{29, -38, 2.6335781662795e-23},
	{30, -39, -1.1947622640071e-23},
	{31, -40, 1.8228094581404e-24},
	{32, -41, -9.3537087292458e-26},
}

// liquid gives a kilogram of water at k kelvin under p megapascal.
func liquid(k, p float64) Phase {
	const star = 16.53
	pi, tau := p/star, 1386/k
	var g, gp, gt, gtt float64 // the energy and its derivatives by pi and tau
	a, b := 7.1-pi, tau-1.222
	for _, t := range liquidTerms {
		x := t.n * power(a, t.i) * power(b, t.j)
		g += x
		gp -= float64(t.i) * x / a
		gt += float64(t.j) * x / b
		gtt += float64(t.j) * float64(t.j-1) * x / (b * b)
	}
	return fromGibbs(k, p, pi*gp, tau*gt, tau*tau*gtt, g)
}

// fromGibbs turns the energy g and its scaled derivatives into properties in SI units.
func fromGibbs(k, p, piGp, tauGt, tau2Gtt, g float64) Phase {
	return Phase{
		V:  gasConstant * k / (p * 1000) * piGp,
		H:  gasConstant * k * tauGt * 1000,
		S:  gasConstant * (tauGt - g) * 1000,
		Cp: -gasConstant * tau2Gtt * 1000,
	}
}

// power raises to a whole number by squaring.
func power(x float64, n int) float64 {
	if n < 0 {
		x, n = 1/x, -n
	}
	out := 1.0
	for ; n > 0; n >>= 1 {
		if n&1 == 1 {
			out *= x
		}
		x *= x
	}
	return out
}
