// Package weather turns climate normals or station records into days of a season, and days into
// hours. It knows no stalks, sites or files.
//
// A day is wet with R ≥ 1 mm of rain. Days of the year d count from 0 to 364, 29 February is left
// out, and DOY is d + 1. Z, z, g are standard normal draws, Φ is their distribution. Φ⁻¹(p) is
// taken of p within 10⁻⁴ … 1 − 10⁻⁴ in a fitted climate. Own fits and assumptions have no source.
//
// # Where days come from
//
// NormalsSource draws days from twelve months of normals; ClimateSource from a Climate fitted to
// a daily record (Fit), which Assess compares with the record; Field draws several places at
// once; RealYears runs through the years of a record. All dress a day of rain or none by the same
// rules (below). Every day takes the same number of normal draws whatever comes of it. Forty days
// are drawn and thrown away before the first.
//
// # Clock
//
// Years differ in when the rains set in (on) and withdraw (off); usually they do on ON and OFF.
// Day t has the chance and amount of the clock day
//
//	t ON/on                                       t < on
//	ON + (t − on)(OFF − ON)/(off − on)            on ≤ t < off
//	OFF + (t − off)(365 − OFF)/(365 − off)        off ≤ t
//
// cut to a whole day, at most 364. A clock that does not move leaves t as it is. In normals on =
// ON + sd Z, held in 10…340, off likewise, held in on + 10…355, and t counts from 1 January. In a
// fitted climate the limits are 5…345 and on + 5…360, and t counts from StartDOY. Normals
// whose rains run over New Year, OFF before ON, count from the middle of their dry season.
//
// # Rain from normals (NormalsSource)
//
// Of a month with rain P mm, D rain days and n days: share π = D/n, at least 10⁻⁴; excess over
// 1 mm a wet day μ = P/D − 1, at least 0.1. Probits Φ⁻¹(π) and μ become curves by day: straight
// lines between mid-months, the knots moved until the mean over each month is the month's. The
// share is taken as at most 0.999, μ of a day as at least 0.05.
//
//	chance of the day  p = Φ(√(1 + o²) c(d) + o Z), c(d) the curve of Φ⁻¹(π), one Z a year
//	wet after dry      0.75 p;  wet after wet 1 − 0.75 (1 − p)   (Geng et al. 1986, AFM 36, 363)
//	slow part          s = 0.65 s' + √(1 − 0.65²) z, s' of the day before, on dry days too
//	score              √b s + √(1 − b) z
//	rain               R = 1 + μ(d) exp(a Z − a²/2) q(Φ(score)), to 0.1 mm
//
// q is the quantile of the gamma law of mean 1 and shape μ/β, β = −2.16 + 1.83 μ mm (Geng), β = μ
// below 3 mm; tabled on 257 scores from −4 to 4 by month. Spread between years: o 0.05, a 0.08, b
// 0.2; where the four wettest months in a row have more than 8 times the mean rain of the others
// o 0.10, a 0.15, b 0.35. At the start the two curves are corrected three times by what 1,500
// simulated years miss: 0.7 of the gap in Φ⁻¹ of the share of wet days, the 0.7th power of the
// ratio of excess. They then agree with the normals within about 4 %.
//
// # Rain of a fitted climate (ClimateSource)
//
// One Z a year, with mean Wetness. The state is the wetness of yesterday and of the day before.
//
//	wet if             z < √(1 + o²) Φ⁻¹(Chance[state][d]) + o Z + Change.ChanceProbit
//	slow part          s = φ s' + √(1 − φ²) z,  φ SlowPersistence
//	score              √b s + √(1 − b) z,  b SlowShare
//	rain               R = 1 + ExcessMM[d] exp(a Z − a²/2) AmountFactor q(Φ(score)), to 0.1 mm
//
// o YearOccurrence, a YearAmount. q is the quantile of the MixedExponential of the class of the
// day: first half of the rains, second half, rest of the year. Storms, where switched on: a Poisson
// number a year with their middle anywhere in the rains; a total TotalMM exp(LogSD z) split 25, 50,
// 25 % on three days, sunshine at most 0.05 and wind thrice. What a Change says of amounts, chances
// and the onset is above; the rest it does to the normals.
//
// # A changed climate (Normals.Changed)
//
// TempC is added to highest and lowest temperature of each month, and the relative humidity stays:
// with the mean m of 1/e°(T(h)) over the 24 hours of the month's mean day (its mean highest and
// lowest on the 15th, by the rules of hours below), the humidity of a month is H = e m, and after
// the change e = (H + HumidityPoints/100)/m', H at least 0.05. A degree thus brings 6 to 7 % more
// vapour. If the vapour pressure stayed, warming would dry the air: it would turn the answer round.
//
// Fit, from the record turned so that its year begins in the middle of the driest 91 days, of the
// years with at least 300 reports, at least ten:
//
//  1. Dates: the two days between which rain, capped at 25 mm, rises most above the year's mean
//     (after Liebmann & Marengo 2001, J. Climate 14, 4308). ON and OFF are their means. The clock
//     moves if rain inside is more than 8 times that outside.
//  2. Chance and excess (R − 0.95) by clock day: Gaussian kernel of 10 days, 40 to each side, not
//     across ON and OFF; second order drawn to first by 8 days, first to the plain chance by 4.
//  3. Classes by 300 rounds of expectation-maximisation from (0.4, 0.3, 1.6), all wet days pooled
//     where a class has fewer than 150.
//  4. Persistence: r of ranks of wet days 1 to 6 days apart, as 2 sin(πr/6), fitted by b φ^k.
//  5. Calibration on 1,500 simulated years: the spread of the dates less what finding them adds;
//     the months' wet share and mean amount; o and a so that wet days and rain of the rains
//     differ between years as in the record. The last correction of the means takes 4,500.
//
// Gaps: a missing day is skipped, never dry, and simulated years get the gaps of the record, one
// year after another, before anything is counted in them. A date is left out where the 30 days on
// either side lack more than a quarter, a season or month where it does itself; less is scaled to
// the length. Where fewer than ten years are left, all count.
//
// # Judging a fit (Assess)
//
// Each statistic of the record stands beside that of simulated years, with its gaps, in the rains
// (all months with a twelfth of the year's rain, both seasons where there are two) and the months
// of the contract. Of the N simulated years 100 records of the record's n years are drawn; with s
// their deviation times √(1 + n/N), 95 % lie within 1.96 s, and a difference of 2.80 s would show in
// four cases of five. What decides differs "by more than matters" where it lies beyond that band
// and by more than its tolerance; beyond the band by less it is a trifle; within it, where not even
// twice the tolerance would show, there are too few years to tell.
//
//	mean rain of a month            15 %, at least 10 mm     mean rain of the rains   10 %, 20 mm
//	share of wet days of a month    0.05                     spread of the rains      30 %, 20 mm
//	longest dry, wet spell          15 %, 2 and 3 days       heavy days, 3 days       20 %, 10 mm
//	dry, wet spells of 5 days       15 %, 0.5 and 1 a season
//	starts of three dry days        15 %, 1.5 a season
//
// Why these: racks dry in three to four days without rain, so what counts is how many such windows
// and how long the spells without one are; 0.05 of wet days is a day and a half of a month, one
// window more or less. How much falls counts for less, because rain hours grow with R^0.4: 15 %
// more rain is 6 % more hours. Tried on a plan of one dryer at Mumbai Colaba, whose August is met in
// 79 % of 500 seasons and September in 80 %: 0.05 more wet days in every month took 5 and 7 points
// off, 15 % more rain none and 1. The verdict is "not usable" with more than two
// statistics off by twice their tolerance, with a third of those that decide failing, with a grave
// suspicion, or with 2.5 times the rain of the normals; "usable with care" where one fails, most
// cannot be told, the least reported month has fewer than 20 years, or something is suspected.
//
// # What looks like a mistake (Record.Suspicions)
//
// Fewer than one sound record in fifty is suspected. Grave ones are marked with *.
//
//	a step          rain of a year, share of wet days or rain of a wet day differs 1.5 times (2.5 *)
//	                between two parts, Pettitt's test below 0.001; or 4 times without overlap
//	odd years       2.5 times the median year and six deviations of the logarithm (a tenth of years *)
//	repeats         an amount from 10 mm comes 3 times as often as any near it and beyond one in a
//	                million; codes such as 99.9 1.5 times and one in ten thousand (5 % of the rain *)
//	stuck           the same 2 mm or more five days in a row
//	weekdays *      3 reports of 10 on one, its wet days off by a quarter and below 10⁻⁵, or its
//	                rain 1.5 times beyond six standard errors
//	copied months   rain on the same days with the same amounts but for a factor, 8 days of rain
//	far above all   75 mm or more that the tail of its time of year has once in 10,000 records:
//	                generalised Pareto of shape 0.2 above what one wet day in ten passes
//	dates twice     that say different things: taken as missing
//	zeros for gaps  a month without a drop where six days of ten are wet (a quarter of years *)
//
// # Rain of several places (Field)
//
// Each place has a source of its own, from normals or a fitted climate, with its own curves, clock
// and rest of the day. Z and the two numbers behind onset and withdrawal are drawn once a year for
// all places (Wilks 1998, Journal of Hydrology 210, 178, keeps one climate; shared luck of the year
// is an assumption): a late year is late everywhere, at each place by its own sd. The z of the chance,
// of the slow part and of the score of a day are each correlated between places d km apart by
//
//	ρ = nearby exp(−d/length)
//
// A place from normals takes u = Φ(z) for its chance: wet after dry if u < 0.75 p, wet after wet if
// u < 1 − 0.75 (1 − p). All else is drawn at each place by itself, but for
// storms: those of the first fitted climate that has some pass over all places, on the same days with
// the same rain (assumption).
//
// # Rest of a day
//
// Highest and lowest temperature, sunshine n/N and vapour pressure have means and deviations by
// month for dry and wet days, as curves. With rain share p = D/n and r = (p − 0.05)/0.45 held in
// 0…1, and a gap δ by which dry days exceed wet ones: dry mean = month + p δ, wet = month − (1−p) δ.
//
//	            gap δ      deviation dry     wet
//	highest     1.6 r      1.2               1.5           °C
//	lowest      0.8 r      2.3 − 0.8 r       2.3 − 1.0 r   °C
//	sunshine    0.33 r     0.20              0.25          means such that clipped to 0…1 they fit
//	vapour      0          0.5 − 0.3 r       0.5 − 0.35 r  kPa; means such that held they fit
//
// Residuals x of the four follow x(t) = A x(t−1) + B e(t) (Richardson 1981, Water Resources
// Research 17, 182), with
//
//	A   0.535  0.048 −0.057  0.101        B   0.830  0      0      0
//	    0.176  0.302 −0.076  0.281            0.198  0.795  0      0
//	    0.042 −0.019  0.250 −0.039            0.480 −0.156  0.816  0
//	    0.058  0.020  0.009  0.499           −0.047  0.251 −0.103  0.811
//
// A value is mean + deviation x. With G = √R − ρ √(1 + x), x the mean excess of the day in its
// year, 0 on dry days, highest falls by 0.28 G and sunshine by 0.036 G; ρ is the mean of √(1 + μ q)
// over √(1 + μ) in normals and of √q of the class in a fitted climate, weighted by the normal
// density of the scores. Normals take these means on the clock day, a fitted climate on the
// calendar's. Then, in this order: lowest is at
// most highest − 1; both to 0.1 °C; sunshine in 0…1, to 0.01; vapour at least 0.15 e°(highest), at
// most e°(lowest + 1), to 0.01 kPa. Wind is the month's mean times a draw from a gamma law of
// shape 4 and mean 1 (quantiles 10⁻⁴…1 − 10⁻⁴), to 0.1 m/s.
//
// The mean of vapour is that of a normal which, held at e°(lowest + 1) of its day, has the month's
// mean: lowest and vapour are taken as normal with correlation 0.436, which A and B keep.
//
// FillNormals says what stands in for months without humidity, sunshine or wind. Where the mean
// relative humidity H of day and night is stated, e is the one with which the mean over the hours of
// the month's mean day of max(0.15, min(1, e/e°(T))), raised to 0.92 (or e/e°(0), where less) in the share s of
// hours that are wet, is H: s counts over 400 rain days, at evenly spaced quantiles of the month's amounts, the rain
// hours and the two after, times D/n. Dew point and vapour pressure are taken as they are;
// readings Hm of the morning and Ha of the afternoon give e = (Hm e°(Tn) + Ha e°(Tx))/2 (FAO-56 eq. 17). Months whose nights cannot hold
// what is stated (1.5 points of humidity of the hours, or more) are named with what was taken.
//
// # Rains more or less humid than stated (Moist)
//
// The relative humidity of the rains is known to a few points only. Points p change the vapour of the
// days of a month by e' − e, drawn as a curve between mid-months, with e the month's vapour and e' that
// with which its mean humidity, reckoned over wet and dry hours as above, is p r/100 higher: all of the
// points in months with rain on half of the days, none up to one day of twenty. A day so changed holds
// at least 0.15 e°(highest) and at most e°(lowest + 2). (Assumption: the form.)
//
// # Hours of a day (Almanac, HoursInto)
//
// Hour h, 0 to 23 of solar time, is taken at t = h + 0.5. N is the day length, sunrise 12 − N/2,
// sunset 12 + N/2, Tx and Tn the day's highest and lowest, sun and radiation of package air.
//
//	by day       T = Tn + (Tx − Tn) sin(π (t − sunrise)/(N + 2))
//	at sunset    Ts = Tn + (Tx − Tn) sin(π N/(N + 2))
//	evening      T = Tn' + (Ts − Tn') exp(−2.2 (t − sunset)/(24 − N)),  Tn' of tomorrow
//	before dawn  T = Tn + (Ts' − Tn) exp(−2.2 (t + 24 − sunset)/(24 − N)),  Ts' of yesterday
//	humidity     h = max(0.15, e/e°(T)), e the day's vapour pressure, at most e°(T)
//	radiation    Rs Ra,h/Ra
//	wind         1.6 v by day, v by night,  v = u/(1.6 N/24 + 1 − N/24), u the day's mean
//
// (temperature: Parton & Logan 1981, Agricultural Meteorology 23, 205, lag 1 h, coefficient 2.2;
// the first and last day of a season stand in for the days beyond.) In hours with 0.2 mm of rain or more
// (assumption) and the two after, over midnight too, where h < 0.92: h = 0.92 and T becomes the temperature at which e gives
// that humidity, e°⁻¹(e/0.92); e stays, so that no hour holds more vapour than the day. Where that
// would be frost, T is 0 °C, or stays where it is colder, and h is what e gives there. Evaporation is
// worked out with these. On a dry day with rain T comes out colder than a thermometer would show
// (rain cools air to its wet bulb and adds vapour); what counts for stalks is that they do not dry.
// Day is while |t − 12| < N/2.
//
// # Rain hours of a day
//
// Rain R falls for l = 1.6 R^0.4 exp(0.4 z) hours, held in 0.5…20; in one block, or above 8 h in
// two of half the rain and half the length each, which may overlap. A block begins at 15 + 3 z, on
// a coast at any time of day alike, held so that it ends by midnight. Of its rain the share
// 3x² has fallen after the share x ≤ 1/3 of its time, and 1 − 1.5 (1 − x)² after x above: a
// triangle that peaks after a third. Assumption, tuned to 400 mm a month falling in 150 hours.
package weather
