package org.evenwash.analysis.spirit;

/**
 * Density of ethanol–water mixtures: the general formula of OIML Recommendation R 22, International
 * alcoholometric tables (1973), also the annex to Directive 76/766/EEC:
 *
 * <p>ρ = Σ A_k p^(k−1) + Σ B_k (t−20)^k + Σ_i Σ_k C_ik p^k (t−20)^i, with p the mass fraction of
 * ethanol and t in °C; ρ in kg/m³. Of four public copies of the 54 coefficients two, one of
 * them made anew from the printed page, agree in every digit and stand here; the others differ from
 * them in one coefficient each, beyond its tenth digit. Tests hold the result against printed values
 * at 20 °C and away from it.
 */
final class EthanolWaterDensity {
    static final double LOWEST_C = -20;
    static final double HIGHEST_C = 40;

    // spotless:off
    private static final double[] A = {
        998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388,
        306287.4042, -613838.1234, 747017.2998, -547846.1354, 223446.0334, -39032.85426};

    private static final double[] B = {
        -0.20618513, -5.2682542e-3, 3.6130013e-5, -3.8957702e-7, 7.169354e-9, -9.9739231e-11};

    private static final double[][] C = {
        {0.1693443461530087, -10.46914743455169, 71.96353469546523, -704.7478054272792,
         3924.090430035045, -12101.64659068747, 22486.46550400788, -26055.62982188164,
         18523.73922069467, -7420.201433430137, 1285.617841998974},
        {-0.01193013005057010, 0.2517399633803461, -2.170575700536993, 13.53034988843029,
         -50.29988758547014, 109.6355666577570, -142.2753946421155, 108.0435942856230,
         -44.14153236817392, 7.442971530188783},
        {-6.802995733503803e-4, 0.01876837790289664, -0.2002561813734156, 1.022992966719220,
         -2.895696483903638, 4.810060584300675, -4.672147440794683, 2.458043105903461,
         -0.5411227621436812},
        {4.075376675622027e-6, -8.763058573471110e-6, 6.515031360099368e-6, -1.515784836987210e-6},
        {-2.788074354782409e-8, 1.345612883493354e-8}};
    // spotless:on

    private EthanolWaterDensity() {}

    /**
     * @param massFraction of ethanol, 0 to 1
     * @param celsius −20 to 40, the formula's range
     * @return kg/m³
     */
    static double density_kgm3(double massFraction, double celsius) {
        double offset = celsius - 20;
        double density = polynomial(A, massFraction) + offset * polynomial(B, offset);
        double power = 1;
        for (double[] row : C) {
            power *= offset;
            density += power * massFraction * polynomial(row, massFraction);
        }
        return density;
    }

    private static double polynomial(double[] coefficients, double x) {
        double sum = 0;
        for (int k = coefficients.length - 1; k >= 0; k--) {
            sum = sum * x + coefficients[k];
        }
        return sum;
    }
}
