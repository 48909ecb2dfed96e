//! How far apart any two activities or steps lie at least: the closure of all
//! lags.

/// No bound; far enough from the ends of the numbers to be added up.
pub const NONE: i32 = i32::MIN / 4;

/// Least times from start to start, for all pairs, with minute 0 as one more.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Closure {
    nodes: usize,
    least: Vec<i32>,
}

impl Closure {
    /// A closure of so many activities of which nothing is known.
    pub fn new(activities: usize) -> Self {
        let nodes = activities + 1;
        let mut least = vec![NONE; nodes * nodes];
        for i in 0..nodes {
            least[i * nodes + i] = 0;
        }
        Self { nodes, least }
    }

    #[inline]
    fn zero(&self) -> usize {
        self.nodes - 1
    }

    /// At least `least` from start to start; `true` if that is news.
    pub fn bound(&mut self, from: usize, to: usize, least: i32) -> bool {
        let at = from * self.nodes + to;
        let news = self.least[at] < least;
        self.least[at] = self.least[at].max(least);
        news
    }

    /// Starts no earlier.
    pub fn not_before(&mut self, i: usize, earliest: i32) -> bool {
        self.bound(self.zero(), i, earliest)
    }

    /// Starts no later.
    pub fn not_after(&mut self, i: usize, latest: i32) -> bool {
        self.bound(i, self.zero(), -latest)
    }

    /// Least time from start to start; [`NONE`] if nothing binds them.
    #[inline]
    pub fn least(&self, from: usize, to: usize) -> i32 {
        self.least[from * self.nodes + to]
    }

    /// Earliest start.
    #[inline]
    pub fn earliest(&self, i: usize) -> i32 {
        self.least(self.zero(), i)
    }

    /// Latest start.
    #[inline]
    pub fn latest(&self, i: usize) -> i32 {
        -self.least(i, self.zero())
    }

    /// Closes it; `false` if the lags contradict each other.
    pub fn close(&mut self) -> bool {
        (0..self.nodes).all(|via| self.close_over(via))
    }

    fn close_over(&mut self, via: usize) -> bool {
        let n = self.nodes;
        for from in 0..n {
            let first = self.least[from * n + via];
            if first <= NONE {
                continue;
            }
            for to in 0..n {
                let second = self.least[via * n + to];
                if second > NONE {
                    self.bound(from, to, first + second);
                }
            }
        }
        (0..n).all(|i| self.least[i * n + i] <= 0)
    }

    /// Adds one lag to a closed closure and keeps it closed; `false` if it
    /// contradicts the others.
    pub fn add(&mut self, from: usize, to: usize, least: i32) -> bool {
        if self.bound(from, to, least) {
            return self.close_over(from) && self.close_over(to);
        }
        true
    }
}
