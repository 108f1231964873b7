//! Random questions that were once answered wrongly or not at all, asked again and held against the
//! judge of [`random_questions`](super::random_questions): the tangent-plane criterion (Michelsen,
//! Fluid Phase Equilib. 9 (1982) 1).

use zeotrope::catalogue::Catalogue;
use zeotrope::units::Temperature;
use zeotrope::validation::random::{Question, ask_again};
use zeotrope::{ReferenceState, Refrigerant};

fn withstand(questions: &[(&str, Question)]) {
    let catalogue = Catalogue::embedded();
    for (blend, question) in questions {
        let report = ask_again(&catalogue, blend, *question).unwrap();
        let findings: Vec<_> = report
            .findings
            .iter()
            .map(|one| format!("{}: {}", one.fault.name(), one.text))
            .collect();
        assert!(findings.is_empty(), "{findings:#?}");
    }
}

/// A gas so compressed that it holds more moles a volume than the liquid beside it.
#[test]
fn a_gas_of_more_moles_a_volume_is_no_liquid() {
    withstand(&[
        (
            "R-11/R-50 (87.753582/12.246418)",
            Question::Temperature(355.386834),
        ),
        (
            "R-728/R-142b/R-1224yd(Z) (34.229615/1.45629/64.314095)",
            Question::State(254.639083, 22391324.8, 0),
        ),
        (
            "R-41/R-152a/R-728 (7.140068/1.684987/91.174945)",
            Question::State(154.948466, 27454941.0, 0),
        ),
    ]);
}

/// Vapor over a liquid rich in water that Newton's method crosses a spinodal to.
#[test]
fn a_liquid_rich_in_water_is_met() {
    withstand(&[
        (
            "R-718/R-50/R-1233zd(E)/R-40/FK-5-1-12/R-702 \
             (32.947722/11.412454/7.611124/4.94983/23.316409/19.762461)",
            Question::Temperature(321.394202),
        ),
        (
            "R-14/R-718/R-123/R-704/R-13/R-124 \
             (20.402789/11.097481/18.385252/10.876926/17.765444/21.472108)",
            Question::Pressure(212278.161),
        ),
        (
            "R-14/R-718/R-123/R-704/R-13/R-124 \
             (20.402789/11.097481/18.385252/10.876926/17.765444/21.472108)",
            Question::State(237.059424, 9605.441, 0),
        ),
        (
            "R-718/R-E170/R-116 (19.530417/49.449452/31.020131)",
            Question::Pressure(126661.174),
        ),
        (
            "R-718/R-717/R-170 (51.01211/35.642275/13.345615)",
            Question::State(228.517336, 3395.181, 0),
        ),
    ]);
}

/// Beside a gas a bubble line falls before it rises: of two temperatures of a pressure the lower.
#[test]
fn a_falling_bubble_line_is_met_at_its_lower_temperature() {
    withstand(&[
        (
            "R-744A/R-E170/R-152a/R-718 (23.820955/2.290144/28.175053/45.713848)",
            Question::Temperature(448.639162),
        ),
        (
            "R-718/R-13 (89.612605/10.387395)",
            Question::Temperature(450.0),
        ),
        (
            "R-14/R-123 (3.942286/96.057714)",
            Question::Temperature(246.16402),
        ),
        (
            "R-1336mzz(E)/R-50 (99.919354/0.080646)",
            Question::Temperature(270.420295),
        ),
        (
            "R-124/R-50/R-1123/R-32/R-218/R-1233zd(E) \
             (19.725946/7.968303/5.819099/63.721488/0.596669/2.168495)",
            Question::Temperature(235.865907),
        ),
        // so steep that it comes down within the parts that are passed over
        (
            "R-152a/R-22/R-732 (99.193414/0.108084/0.698502)",
            Question::Temperature(234.767445),
        ),
        // where a gas is a little below its own critical temperature, and the blend far below
        (
            "R-13/R-728 (98.287036/1.712964)",
            Question::Temperature(117.0142659784),
        ),
        (
            "R-13/R-50 (99.793897/0.206103)",
            Question::Temperature(107.2044476177),
        ),
        // the line comes down from liquids that part, between lower pressures on both sides
        (
            "R-14/FK-5-1-12/R-600 (18.328355/29.587025/52.08462)",
            Question::Temperature(271.6801892214),
        ),
    ]);
}

/// Where a liquid is nearly a gas, points beside a bubble point over two liquids lead away from the line.
#[test]
fn what_lies_beside_a_line_is_not_the_line() {
    withstand(&[
        (
            "R-1234yf/R-227ea/R-E170/R-50/R-718/R-365mfc \
             (14.427227/13.829533/32.808792/3.903978/15.268988/19.761483)",
            Question::Temperature(410.0),
        ),
        (
            "R-1233zd(E)/R-134a/R-1336mzz(Z)/R-365mfc/R-50/R-290 \
             (19.070292/21.913243/5.943048/2.835789/27.180024/23.057603)",
            Question::Temperature(303.725323),
        ),
        (
            "R-732/R-13 (25.106452/74.893548)",
            Question::Temperature(216.060032),
        ),
    ]);
}

/// A dew point above water's own: of two trials next to each other one has a density, one has none.
#[test]
fn a_trial_without_a_density_stops_no_other() {
    withstand(&[(
        "R-728/R-718/R-744 (40.648330/12.765747/46.585923)",
        Question::Temperature(235.194374),
    )]);
}

/// Quality that falls and rises along an isotherm on which two phases reach up to the highest
/// pressure, and liquids that part by their other properties.
#[test]
fn properties_lead_back_to_their_state() {
    withstand(&[
        (
            "R-728/R-13/R-1234ze(Z) (38.085914/38.786629/23.127457)",
            Question::State(282.033848, 8852110.64, 2),
        ),
        (
            "R-732/R-22 (47.04238/52.95762)",
            Question::State(172.168389, 20073269.6, 4),
        ),
        (
            "R-740/R-1270 (40.121239/59.878761)",
            Question::State(145.613937, 29032688.7, 4),
        ),
        (
            "R-718/R-13 (32.545546/67.454454)",
            Question::State(280.894503, 10344428.3, 8),
        ),
        // at the blend's lowest temperatures water's isotherm falls from the thinnest gas on
        (
            "R-152a/R-718 (0.114764/99.885236)",
            Question::State(375.825011, 24468433.8, 1),
        ),
    ]);
}

/// Liquids that part where components differ so much that one dissolves in the others like a gas.
#[test]
fn liquids_that_part_are_answered() {
    withstand(&[
        (
            "R-1150/R-601a/R-13I1/R-50 (32.293885/32.966287/17.104739/17.635089)",
            Question::Temperature(162.911137),
        ),
        (
            "R-1150/R-601a/R-13I1/R-50 (32.293885/32.966287/17.104739/17.635089)",
            Question::Temperature(161.0),
        ),
    ]);
}

/// A gas over two liquids.
#[test]
fn a_gas_over_two_liquids_is_answered() {
    withstand(&[
        (
            "R-1150/R-728/R-31-10 (58.183998/30.236398/11.579604)",
            Question::State(167.102442, 4910104.11, 0),
        ),
        (
            "R-14/R-227ea/R-732 (48.654817/43.957194/7.387989)",
            Question::State(163.175576, 765320.38, 0),
        ),
        (
            "R-41-12/R-161/R-32/R-718/R-744/R-143a \
             (18.993735/5.946057/17.588927/24.04113/15.00913/18.421021)",
            Question::State(274.782973, 1169367.17, 0),
        ),
    ]);
}

/// What lies in a loop of an equation, or has no density at the tested pressure, is no phase: it hid
/// dew points.
#[test]
fn a_loop_of_an_equation_is_no_rival() {
    withstand(&[
        (
            "R-740/R-113/R-152a/R-764/R-115 (11.824801/24.361494/13.807114/31.868229/18.138362)",
            Question::Temperature(242.23571),
        ),
        (
            "R-C318/R-161/R-728/R-113/R-1234yf/R-601/R-764/R-1132(E) \
             (3.511935/0.02894/56.409471/1.838266/0.128012/0.01054/21.06217/17.010666)",
            Question::Temperature(242.391905),
        ),
        (
            "R-245ca/R-124/FK-5-1-12/R-C270/R-718/R-1150 \
             (4.423214/14.409352/9.997682/26.543214/20.754798/23.87174)",
            Question::Temperature(401.777929),
        ),
    ]);
}

/// Liquids that part at all pressures, and one near its spinodal.
#[test]
fn liquids_that_part_are_met() {
    withstand(&[
        (
            "R-125/R-1336mzz(Z)/R-1234yf/R-14/R-114 \
             (14.106336/39.482209/2.469625/13.420877/30.520953)",
            Question::Temperature(242.878902),
        ),
        (
            "R-41-12/R-161/R-32/R-718/R-744/R-143a \
             (18.993735/5.946057/17.588927/24.04113/15.00913/18.421021)",
            Question::Temperature(373.629235),
        ),
        (
            "R-764/R-123/R-718/R-245fa/R-7146/R-143a/R-290/R-13 \
             (0.369582/8.092789/4.39995/0.36854/0.129044/5.657299/80.874599/0.108197)",
            Question::Temperature(334.954856),
        ),
        (
            "R-1336mzz(Z)/R-717/R-764/R-601/R-744 \
             (19.49699/17.303767/18.931635/24.226834/20.040774)",
            Question::State(219.329144, 1522919.37, 0),
        ),
    ]);
}

/// A pressure next to the lowest of a bubble line that falls before it rises, and one whose line was
/// sought below the temperatures of the blend.
#[test]
fn a_line_is_met_next_to_its_turn() {
    withstand(&[
        (
            "R-152a/R-50/R-1234yf/R-744/R-C270 \
             (19.589944/30.450825/5.937985/26.979546/17.0417)",
            Question::Temperature(282.404232),
        ),
        (
            "R-124/R-1234ze(Z)/R-13/R-1140/R-702 (0.098709/0.633302/97.792343/1.309287/0.166359)",
            Question::Temperature(289.857588),
        ),
        (
            "FK-5-1-12/R-14 (0.037237/99.962763)",
            Question::Pressure(1944070.81),
        ),
    ]);
}

/// Points near the top: where no envelope was traced, and where a trace of a gas comes out of what is no
/// liquid any more.
#[test]
fn lines_near_the_top_are_met_without_an_envelope() {
    withstand(&[
        (
            "R-150/R-1150/R-31-10 (24.87378/41.678863/33.447357)",
            Question::Temperature(412.137393),
        ),
        (
            "R-23/R-152a/R-744A/R-11/R-170/R-718 \
             (0.161795/1.272243/97.321702/0.363911/0.478359/0.40199)",
            Question::Temperature(315.400764),
        ),
        (
            "R-702/R-718/R-124/FK-5-1-12 (0.497893/4.388101/44.574603/50.539403)",
            Question::Temperature(447.0),
        ),
        (
            "R-702/R-718/R-124/FK-5-1-12 (0.497893/4.388101/44.574603/50.539403)",
            Question::Pressure(4161201.9),
        ),
    ]);
}

/// A quality that hardly changes along an isobar, and falls where it is hotter.
#[test]
fn a_quality_that_falls_with_temperature_is_met() {
    withstand(&[
        (
            "R-1243zf/R-41/R-C318/R-23/R-32/R-115/R-740 \
             (13.457093/9.705197/8.55883/20.344742/5.698248/23.679972/18.555918)",
            Question::State(229.206774, 22475342.9, 1),
        ),
        (
            "R-31-10/R-600/R-245fa/R-152a/R-717/R-732 \
             (26.923907/18.01154/36.80135/1.775335/13.125136/3.362731)",
            Question::State(230.740255, 6126375.19, 1),
        ),
        (
            "R-732/R-600 (23.077503/76.922497)",
            Question::State(189.750089, 11816857.4, 1),
        ),
        (
            "R-740/R-E170 (24.579942/75.420058)",
            Question::State(257.313794, 22244963.3, 1),
        ),
        // one of that quality is not stable
        (
            "R-13I1/R-31-10/R-50/R-22/R-124 (35.57497/26.351168/16.461638/15.804092/5.808132)",
            Question::State(204.502585, 956225.598, 1),
        ),
    ]);
}

/// Water drops out of carbon dioxide far below its own dew line, and above its critical temperature.
#[test]
fn lines_beside_the_traced_envelope_are_met() {
    withstand(&[
        (
            "R-744/R-E170/R-32/R-718/R-13 (94.167185/0.752453/0.781555/0.436689/3.862118)",
            Question::Temperature(313.145397),
        ),
        (
            "R-744/R-E170/R-32/R-718/R-13 (94.167185/0.752453/0.781555/0.436689/3.862118)",
            Question::Temperature(307.0),
        ),
        ("R-744/R-718 (99.7562/0.2438)", Question::Temperature(305.0)),
        ("R-744/R-718 (99.7562/0.2438)", Question::Temperature(308.0)),
        ("R-744/R-718 (99.7562/0.2438)", Question::Pressure(2e6)),
    ]);
    let wet = Refrigerant::named("R-744/R-718 (99.9/0.1)").unwrap();
    let [below, between, above] = [303.0, 304.0, 305.0]
        .map(Temperature::kelvin)
        .map(|temperature| wet.dew_pressure(temperature).unwrap().in_pascal());
    // a dew pressure over water rises smoothly through the critical temperature of R-744, 304.13 K
    assert!(
        below < between && between < above,
        "{below} {between} {above}"
    );
    let middle = (below * above).sqrt();
    assert!((between / middle - 1.0).abs() < 1e-2, "{between} {middle}");
}

/// A point at which a liquid becomes two is no bubble point where a gas comes at a lower pressure.
#[test]
fn where_a_liquid_becomes_two_no_bubble_rises() {
    withstand(&[
        (
            "R-41/R-236ea/R-41-12/R-1234ze(Z)/R-718 \
             (16.976172/30.425939/23.469305/2.201346/26.927238)",
            Question::Temperature(412.0),
        ),
        (
            "R-718/R-116/R-236ea/R-1150 (28.951873/19.314256/48.103623/3.630248)",
            Question::Temperature(412.0),
        ),
        // above the pressures of the blend none is answered, whichever is given
        (
            "R-740/R-13/R-1130(E) (1.816863/35.978274/62.204862)",
            Question::Temperature(278.066294),
        ),
        (
            "R-C270/R-365mfc/R-50/R-1132(E) (24.884629/28.841895/5.646346/40.62713)",
            Question::Temperature(381.533962),
        ),
        // a gas comes with pressure, between two temperatures that are looked at
        (
            "R-702/R-718/R-124/FK-5-1-12 (0.497893/4.388101/44.574603/50.539403)",
            Question::Temperature(449.0),
        ),
        (
            "R-702/R-718/R-124/FK-5-1-12 (0.497893/4.388101/44.574603/50.539403)",
            Question::Temperature(453.0),
        ),
    ]);
}

/// Newton's method for a vapor over two liquids came to a solution between the spinodals, of a pressure
/// below zero.
#[test]
fn no_pressure_is_below_zero() {
    let wet = "R-718/R-601/R-123 (8.320349/66.143706/25.535946)";
    withstand(&[
        (wet, Question::Temperature(358.219)),
        (wet, Question::Temperature(380.0)),
    ]);
}

/// A pressure of a bubble line is met next to where the line ends, at the highest temperature or between
/// two that are looked at, and where it falls from all pressures.
#[test]
fn a_line_is_met_next_to_its_end() {
    withstand(&[
        (
            "R-601a/R-718 (68.650339/31.349661)",
            Question::Temperature(500.0),
        ),
        (
            "R-50/R-41-12/R-732 (39.693537/7.190352/53.116111)",
            Question::Temperature(167.4995),
        ),
        (
            "R-13/R-C270/R-601/R-170/R-718 \
             (27.077475/23.693102/24.256138/13.306426/11.666858)",
            Question::Temperature(386.977192),
        ),
        (
            "R-740/R-1270/R-50/R-23/R-142b/R-116/R-13/R-702 \
             (4.849543/0.685366/0.901579/0.020294/0.083935/80.653481/12.797158/0.008645)",
            Question::Temperature(189.184781),
        ),
        // from the coldest on it falls, and rises again
        (
            "R-744/R-125/R-732/R-290 (32.047357/29.86997/11.007682/27.074991)",
            Question::Temperature(281.2666),
        ),
    ]);
}

/// Above the pressures of a blend no line is answered by temperature either, and a solution there hides none
/// below.
#[test]
fn pressures_of_lines_are_those_of_the_blend() {
    let sulfurous = "R-764/R-23/R-1132(E)/R-290/R-227ea/R-1234ze(E)/R-740/R-218 \
                     (17.806761/11.613562/0.534741/20.029484/3.309174/22.24312/6.946298/17.516862)";
    withstand(&[
        (
            "R-236ea/R-740/R-13I1/R-600/R-245ca \
             (17.688167/5.474445/27.98341/27.308306/21.545672)",
            Question::Temperature(366.7133),
        ),
        (sulfurous, Question::Temperature(337.39827)),
        // nor is a dew point passed over between two states of one phase
        (sulfurous, Question::Temperature(372.011637)),
        (
            "R-40/R-601a/R-728 (27.005659/53.508987/19.485353)",
            Question::Temperature(318.9066),
        ),
    ]);
}

/// Far below the reducing temperature, too, two phases may end at a second dew point and no bubble point.
#[test]
fn an_upper_dew_point_is_answered_in_the_cold() {
    withstand(&[(
        "R-740/R-290 (22.228279/77.771721)",
        Question::Temperature(205.65656),
    )]);
    let blend = Refrigerant::named("R-740/R-290 (20.567/79.433)").unwrap();
    let found = blend
        .saturation_at_temperature(Temperature::kelvin(205.65656), ReferenceState::Usual)
        .unwrap();
    assert!(found.bubble.is_none());
    let (dew, upper) = (found.dew.unwrap(), found.retrograde.unwrap());
    assert!(upper.pressure > dew.pressure);
}

/// Beside a gas a bubble line falls before it rises: a pressure under that at the coldest has a bubble point, for
/// who asks through curves too, whether the gas is one at the coldest (argon) or not (methane in over
/// water).
#[test]
fn a_pressure_below_that_at_the_coldest_is_asked_for() {
    withstand(&[
        (
            "R-13/R-50 (99.793897/0.206103)",
            Question::Pressure(16440.279687732353),
        ),
        (
            "R-13/R-50 (99.793897/0.206103)",
            Question::Temperature(129.17885625390164),
        ),
        (
            "R-740/R-365mfc/R-764/R-124 (0.058879/40.999061/1.620749/57.321311)",
            Question::Pressure(5984887.667383603),
        ),
        (
            "R-13I1/R-236fa/R-1132(E)/R-41-12/R-1336mzz(E)/R-600a/R-14/R-718 \
             (0.193445/0.646785/9.370712/81.949889/0.056051/0.026618/1.461997/6.294503)",
            Question::Temperature(308.5680902262356),
        ),
    ]);
}

/// A dew line has a kink where the liquid of its drops becomes another: beyond it the first one's line goes on,
/// lower in temperature and no equilibrium, and no piece of a curve may follow it.
#[test]
fn a_curve_does_not_follow_a_dew_line_past_its_kink() {
    withstand(&[(
        "R-718/R-170/R-31-10/R-600 (0.300047/67.678778/8.717672/23.303504)",
        Question::Pressure(714454.4659374622),
    )]);
}
