//! Vectors and turns for tests that turn things by hand, sharing nothing with the core.

pub(crate) type Vector = [f64; 3];

pub(crate) fn add(a: Vector, b: Vector) -> Vector {
    [0, 1, 2].map(|i| a[i] + b[i])
}

pub(crate) fn scaled(a: Vector, by: f64) -> Vector {
    a.map(|of| of * by)
}

pub(crate) fn less(a: Vector, b: Vector) -> Vector {
    add(a, scaled(b, -1.0))
}

pub(crate) fn dot(a: Vector, b: Vector) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(crate) fn cross(a: Vector, b: Vector) -> Vector {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

pub(crate) fn length(a: Vector) -> f64 {
    dot(a, a).sqrt()
}

pub(crate) fn unit(a: Vector) -> Vector {
    a.map(|of| of / length(a))
}

/// Turned to the side: forward goes to +x.
pub(crate) fn to_side([x, y, z]: Vector, angle: f64) -> Vector {
    let (sin, cos) = angle.sin_cos();
    [x * cos + z * sin, y, z * cos - x * sin]
}

/// Lifted: forward goes up.
pub(crate) fn lifted([x, y, z]: Vector, angle: f64) -> Vector {
    let (sin, cos) = angle.sin_cos();
    [x, y * cos + z * sin, z * cos - y * sin]
}

/// Distance of a place from the straight way between two others.
pub(crate) fn off_segment(place: Vector, start: Vector, end: Vector) -> f64 {
    let along = less(end, start);
    let share = (dot(less(place, start), along) / dot(along, along)).clamp(0.0, 1.0);
    length(less(place, add(start, scaled(along, share))))
}

/// How little something comes to within `bounds`, from the best of some places on: by steps along and aslant to all
/// axes, which are halved where none leads to less, until all are as short as the last figure.
pub(crate) fn led_on<const N: usize>(
    mut best: ([f64; N], f64),
    bounds: [[f64; 2]; N],
    (mut steps, finest): ([f64; N], f64),
    of: impl Fn([f64; N]) -> f64,
) -> f64 {
    let ways = 3_i32.pow(u32::try_from(N).expect("there are few"));
    while steps.iter().any(|step| *step > finest) {
        let next = (0..ways).map(|way| {
            let (mut at, mut way) = (best.0, way);
            for axis in 0..N {
                let [low, high] = bounds[axis];
                at[axis] = (at[axis] + f64::from(way % 3 - 1) * steps[axis]).clamp(low, high);
                way /= 3;
            }
            (at, of(at))
        });
        let next = next
            .min_by(|a, b| a.1.total_cmp(&b.1))
            .expect("there are some");
        if next.1 < best.1 - 1e-9 {
            best = next;
        } else {
            steps = steps.map(|step| step / 2.0);
        }
    }
    best.1
}
