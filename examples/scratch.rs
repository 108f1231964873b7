//! scratch
#![allow(clippy::all)]
use std::time::Instant;
use zeotrope::{Refrigerant, catalogue::Catalogue};
use zeotrope::equilibrium::{bubble_dew::Branch, line::BlendLine};
use zeotrope::curve::*;
fn main(){
    let c=Catalogue::embedded();
    let only: Vec<String>=std::env::args().skip(1).collect();
    let mut names=c.pure_designations(); names.extend(c.blend_designations());
    if !only.is_empty(){names=only;}
    let mut total=0.0;
    for n in names { let Ok(r)=Refrigerant::named(&n) else {continue}; let (m,x)=r.model(); let f=m.at_composition(x);
      let l=r.limits(); let bl=BlendLine::default();
      let s=Instant::now(); let _=bl.envelope(m,x).map(|e|(e.critical,e.cricondentherm,e.cricondenbar)); let e0=s.elapsed();
      for b in [Branch::Bubble,Branch::Dew] { if r.is_pure() && b==Branch::Dew {continue}
         let mk=|| if r.is_pure() {Line::Pure(f)} else {Line::Blend{mixture:m,z:x,line:&bl,branch:b,limits:(l.temperature_min.in_kelvin(),l.temperature_max.in_kelvin())}};
         let cu=Curve::new(&mk());
         let s=Instant::now(); std::hint::black_box(cu.pressure(250.0,mk)); let e1=s.elapsed();
         let s=Instant::now(); std::hint::black_box(cu.temperature(5e5,mk)); let e2=s.elapsed();
         let s=Instant::now(); let mut t=l.temperature_min.in_kelvin(); let hi=l.temperature_max.in_kelvin(); let mut per=vec![]; while t<hi { let s=Instant::now(); cu.pressure(t,mk); per.push((t as i64,s.elapsed().as_micros())); t+=16.0; } let e4=s.elapsed(); println!("{per:?}");
         let s=Instant::now(); let cov=cu.covered(&mk()); let e3=s.elapsed(); total+=(e1+e2+e3).as_secs_f64();
         println!("{n} {b:?} env {e0:?} one {e1:?} oneT {e2:?} allT {e4:?} rest {e3:?} {:?} {:?}",cu.size(),cov);
      }
    }
    println!("total {total}");
}
