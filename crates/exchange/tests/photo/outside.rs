//! Figures of an independent library: scikit-image 0.26.0 with numpy 2.4.6 (PyPI), worked out once with
//!
//! ```python
//! t = skimage.transform.ProjectiveTransform.from_estimate(
//!     np.array([[312.5, 1480.25], [1395.0, 1502.75], [1210.5, 233.0], [402.0, 210.5]]),
//!     np.array([[0, 0], [210, 0], [210, 297], [0, 297.0]]))
//! t(np.array([[800.0, 900.0], [1600.0, 1200.0], [100.0, 300.0]]))
//! ```

use petitoile_core::kurbo::Point;
use petitoile_exchange::photo::Homography;

#[test]
fn four_corners_give_the_map_that_another_library_gives() {
    let px = [
        (312.5, 1480.25),
        (1395.0, 1502.75),
        (1210.5, 233.0),
        (402.0, 210.5),
    ];
    let mm = [(0.0, 0.0), (210.0, 0.0), (210.0, 297.0), (0.0, 297.0)];
    let map = Homography::between(px.map(Point::from), mm.map(Point::from)).unwrap();
    let theirs = [
        (
            (800.0, 900.0),
            (97.757_530_495_846_42, 116.957_627_540_106_23),
        ),
        (
            (1600.0, 1200.0),
            (262.001_380_369_226_75, 57.423_388_091_927_27),
        ),
        (
            (100.0, 300.0),
            (-74.243_821_170_850_51, 267.196_564_675_642_8),
        ),
    ];
    for (from, to) in theirs {
        let own = map.apply(Point::from(from)).unwrap();
        assert!((own - Point::from(to)).hypot() < 1e-6, "{own:?} for {to:?}");
    }
}
