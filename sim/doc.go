// Package sim runs one season of a region: each site's cutters, yard, dryers and store
// through the hours, and the hub that serves the contract month by month. It reads no file
// and no clock and prints nothing.
//
// A [Region] says where, when, who, with what and for which buyer; a [Season] holds one
// weather, one draw of the [Parameters] and one draw of luck; a [Runner] lets the sites live
// through it and returns a [RegionLedger] in which every stalk is accounted for. Sites that lie
// apart or have climates of their own live through one Season each weather, with the same
// parameters and luck; package trials draws them together. (TestGroupsHaveRainOfTheirOwn)
//
// # The rules of a season
//
// What follows decides every stalk. A reader who programs it again, with the equations of
// packages air, stalk and charge, gets the same months. Names are those of the fields of
// [Region] and [Parameters]; each rule names the test that holds it.
//
// # The calendar and the clock
//
//  1. A season is the half-open span from hour 0 to hour 24·Days. A year has 365 days. Its
//     months are the parts of calendar months that lie in it; the last may be cut short.
//     (TestCalendar)
//  2. In each month there are CollectionsPerMonth collections: the i-th of n falls on day of
//     the month floor(length·i/n), the last on the last day. Days outside the season fall
//     away; a season that ends inside a month has a collection on its last day.
//     (TestCalendar)
//  3. Everything of a day has its hour: sunrise 6 (round, then cutting is settled), landing of
//     the cut at 6 + CuttingHPerDay rounded up but not after 17, hauled stalks leave at 14 and
//     arrive at 15, a round at 17 before dusk, collection at 18, the month is closed just
//     before midnight. (TestRoundBeforeDusk, TestHauling)
//  4. What falls on one instant is done in this order: finished charges and landed cuts, then rounds,
//     hauling and collections, then looks for a charge, then closing; a look that a landing or an
//     unloading brings (rule 18) follows it at once. Of equals, what was planned first comes first:
//     landings in the morning, an unloading when the fire goes out. (TestTwoChargesByHand)
//  5. Batches on racks and in the heap live in whole hours: before anything is done at a time
//     they have lived all hours that ended by then, each by stalk.State.RackHour or HeapHour
//     of the hour's air under their cover. Looking at them more often changes nothing.
//     (TestDaysAddUpToMonths)
//
// # How a season opens
//
//  6. OpeningStock of a site lies in its store at the finishing moisture, without mould and
//     past the LivingH hours in which none grows. Each site has OpeningWoodKg and one month's
//     WoodKgPerMonth of wood; that comes again with every new month. (TestWoodRunsOut)
//  7. At the hub lie OpeningStock good stalks. Where it speaks by cutters, each site has a share of
//     the contract, of OpeningStock and of the stock ahead, each rounded, and of the room: its ordinary
//     output, Cutters · OutputPerPersonH · CuttingHPerDay, over that of all sites; where nobody
//     cuts, all shares are equal. (TestSymmetry, TestShareAtTheHub)
//
// # The yard
//
//  8. A stalk of FreshG takes FreshG/1000/load m² of rack (its dry matter is FreshG·(1 −
//     FreshMoisture)), and
//     AreaAfterPredry of that once its batch has been below PredriedMoisture. The load is
//     LoadingKgPerM2, or where the site states it LoadingInWetWeeksKgPerM2, for what is laid on a
//     day before which seven days brought WetWeekMM or more; below one layer a batch lives as in
//     one layer. Stalks laid
//     down together make a batch: they fill the clear roof first, then open racks, then the
//     solid roof, as many whole stalks as the free area of each takes, and what finds no
//     place makes a batch in the heap. A batch lies in one place: what fills two is two
//     batches of equal state. Batches never merge. The film of rain is shaken off stalks
//     that leave the yard and stays, to the square metre, on those spread from the heap. Where
//     stalks are spread over the free rack, rule 36 holds besides.
//     (TestHeapHolds, TestMoreWaterTakesMoreWood, TestLoadOfAWetWeek)
//  9. An open rack with Sheets is covered in hours with rain, once it has rained for SheetReactionH
//     hours, and in the first hour after any rain, unless they are missed: in the hours 6 to 18 by the
//     luck of the day, in those from 18 to 6 by that of the night which began at 18, and never by night
//     where they lie over the racks every night. The luck of the day says nothing of the nights before
//     and after it. (TestCoverOfAnHour, TestSheets, TestSheetsPulledLate, TestSheetsAtNight)
//  10. A round, at 6 and at 17, first brings every batch at or below the moisture of Target
//     to the store, as far as that has room (StoreStalks; 0 is endless): of a batch below 8 %
//     wet basis (M < 0.0870) round(stalks · BreakFraction) break, the rest is graded, and full
//     grade goes in. Then, if the yard is short of room, which is asked once, batches
//     whose share of full grade at their highest index is below DiscardBelowFullShare are
//     thrown out. Then the batches of the heap are spread over free racks in their order,
//     and heaped again where there is none. The yard is short when anything lies in the heap
//     or the free racks take fewer fresh stalks than an ordinary day's cut: round(Cutters ·
//     CuttingHPerDay · OutputPerPersonH · OutputFactor), without luck, people or rest.
//     (TestRoundBeforeDusk, TestHeapHolds, TestEndlessRainLeavesOnlyDryers,
//     TestBrittleWhereverTheyDried)
//  11. Grading n stalks of a batch goes by the highest mould index the batch has had:
//     stalk.Grade gives the shares of full grade, second grade and rejects. The rank of a
//     stalk within its batch is fixed, so of a batch graded before only what has become worse
//     since is taken: with kept the share left in so far, full = min(full share, kept),
//     rejects = min(kept − full, max(0, kept − (1 − reject share))), second = the rest; n is
//     split in these proportions into whole stalks by largest remainder, and kept becomes
//     full. Second grade and rejects leave the site. (TestGradingTwiceTakesOnce)
//
// # Cutting, settled at 6 after the round, for the whole day
//
//  12. The share of hands: cutters present (not planting for Planting.Days from AfterOnsetDays after the
//     onset, the first day whose week brought 60 mm; not away by the calendar) times the part of their
//     cutting hours that yesterday's other work leaves. With one Pool, other work done since the last
//     morning, less CrewHPerDay for each of the crew, comes off Cutters · max(WorkHPerDay,
//     CuttingHPerDay) · present; what is left, at most the cutting hours, is cut; what exceeds a day is
//     owed on. That is settled on days of rest too. The grading of the round before is done by then;
//     its spreading is booked after, and comes off the next day. (TestOtherWorkTakesCuttingHours,
//     TestPlantingTakesHands, TestHolidays, TestExtraCrew)
//  13. On every RestEveryDays-th day, the seventh, fourteenth and so on for 7, nobody cuts.
//     (TestRestDays)
//  14. What could be cut is round(Cutters · CuttingHPerDay · OutputPerPersonH · OutputFactor · luck of
//     the day), times the stand left over stand plus ThinAtKgM2 where the site states its StandM2, less
//     SiltedFraction in the SiltedDays from a flush. A flush is the first day on which three days,
//     itself the last of them, have brought more than FlushAboveMM; so many days from it begin with it.
//     The stand is StartKgM2 on the first morning. Every morning after it has grown by GrownKgM2 for a
//     day, the response to the mean T of yesterday's highest and lowest temperature being the smaller
//     of (T − 10)/19 and (40 − T)/11, not below 0; then what was cut yesterday is off, KgPerStalk a
//     stalk, then FlushedFraction if yesterday was a flush, then Removed where a closure begins today.
//     (TestStandCanBeShort, TestStormClosesTheWater)
//  15. Nothing is cut from a closed stand, on a day with more rain than MaxCutRainMM or within the
//     FlushClosedDays from a flush (rule 14), or when the hub has said that there is enough; the first
//     of these that holds is the reason. (TestClosedStand, TestTwoChargesByHand)
//  16. The hub speaks before the first day and at the end of every day, after collections and
//     after a month that ends is served. Wanted is what the month of the next day asks, with
//     what Grace owes of the month before, and the TargetStock of that month; no stock is wanted
//     in the last month that asks for stalks, nor after it. There is what lies at the hub, and
//     the stalks in the stores of the sites times the accepted share: of what left the stores
//     with collections so far, those sorted out at loading included, the part that the gate
//     accepted; before the first collection the AcceptedShare as stated. Daily: where there is
//     less than wanted every site may cut on the next day, else none. At collections: the hub
//     tells a site how much is missing before the first day and on each day on which the vehicle
//     comes for a collection, even where it finds nothing worth its way, but not while the road
//     is shut; the site stops when what has come to lie dry since then, times the accepted share,
//     is at least that. By cutters: as daily, each site by itself with its share. What is still drying
//     does not count. Cutting is all or nothing. (TestCuttingIsAllOrNothing, TestTheHubSpeaks,
//     TestTheHubSpeaksAtCollections, TestThePutOffHearLater, TestShareAtTheHub)
//  17. Where the share of hands is below 1, what is cut is the unrounded number of rule 14 times that
//     share, rounded once. Hours of cutting are that share of Cutters · CuttingHPerDay, times what is
//     cut over this number. It is at most the room: fresh stalks that the free racks take, and the heap
//     up to HeapDaysOfCut ordinary days (rule 10), or with CutWhatCanDry the room of rule 37.
//     (TestHeapHolds)
//
// # Dryers
//
//  18. A crew looks for a charge at ShiftStartH and every 4 hours after, before the shift ends
//     (ShiftEndH and the site's LongerShiftH; above 24 it runs into the night), when a cut lands in the
//     shift (at that hour of a day without a cut too) and when a charge is unloaded in the shift. Free,
//     working dryers look in their order until one finds nothing. A look in which a charge was wanted
//     and people were there, but none could be put together, is not repeated within 4 hours while no
//     batch has come or gone. (TestTwoChargesByHand, TestNightShift, TestMovedDryer)
//  19. A charge is wanted when the batches wetter than Target with a mould index of FireAtIndex or more
//     hold together at least one full-grade stalk (rule 20) and AtRiskFraction of a cabinet (rule 21,
//     by the wettest of them), or when the yard is short of room (rule 10); and when fewer fires burn,
//     dryers being loaded included, than the people present can tend: floor((Cutters · present + Crew)
//     · max(1, TendsDryers)) with one Pool, any number without. (TestNobodyToTendTheFire,
//     TestEndlessSunNeedsNoDryers, TestOneLeftoverStalkFiresNoCharge)
//  20. Batches wetter than Target stand in the order of LoadingRule, ties by day cut, then by age in the
//     yard. Only stalks of full grade count: of a batch, stalks · full share / kept rounded down; one
//     without any does not go in. (TestChargeCountsFullGrade)
//  21. A cabinet holds between HoldsPredried and HoldsFresh by the moisture of the wettest
//     batch that goes in (charge.Capacity, rounded down), times HoldsFraction if that is
//     above 0. (TestReadyLateAndLearning)
//  22. The charge is the beginning of the order, and the fill of 1, 3/4, 1/2 or 1/4 of the
//     cabinet, that finishes most: stalks loaded times the whole charges that fit into the
//     rest of the shift, never more than all that wait; of equals the larger load, then the
//     earlier. A load is the smaller of the full-grade stalks of the beginning and
//     floor(fill · capacity); one below MinimumFill · capacity, or that leaves the last
//     batch of the beginning out, does not count. With D drying hours 1 + floor((rest −
//     HandlingH − D)/(2 · HandlingH + D + cooling)) charges fit, none where HandlingH + D is
//     more than the rest. (TestQuarterFills)
//  23. The cabinet is that of the parameters, with FireSize times its EvaporatesKgPerH, SteelSize times
//     its MassKg (those of the scenario: its fresh stalks over 1,000, unless it states evaporation and
//     mass of its own dryers) and WallSize times its WallLossWPerK (its fresh stalks over 1,000 to the
//     power of 2/3, as walls grow). Drying hours are DryingH of a charge.Course of all batches that go
//     in, with the film of rain on their stalks, lit in the mean air of the twelve hours from 6 to 18.
//     Wood is WoodKg of the water driven off, the film too; a cabinet lit within 4 hours after its last
//     fire went out keeps 0.4 of its warmth; where the seven days up to this one brought 50 mm the wood
//     is as wet as WetWood. Where wood is limited and short, nothing is loaded. (TestTwoChargesByHand,
//     TestALargerCabinetHasALargerFire, TestALargerCabinetHasLessWallForAStalk, TestWetWood,
//     TestWoodRunsOut)
//  24. Loading draws from every batch of the beginning of the order, up to the last one that
//     goes in, and grades what it draws: all of a batch whose full-grade stalks (rule 20)
//     are no more than is still wanted, one that has none included, whose stalks are thereby
//     sorted out. Of a batch that has more it draws ceil(wanted · stalks/full-grade stalks)
//     and leaves in the batch what is over. The film on the stalks that go in is driven off
//     by the fire; that on stalks sorted out is shaken off.
//     (TestChargeCountsFullGrade)
//  25. At lighting, of each batch in the charge round(stalks · overdried share ·
//     BreakFraction) break, and of the rest round(stalks · charge.Fire.BrownedShare) brown
//     to second grade. No mould grows while the fire burns and the chamber cools.
//     (TestTwoChargesByHand, TestBrowning)
//  26. The fire is lit HandlingH after loading began and is out after the drying hours.
//     Cooling takes charge.Fire.CoolingH, to 45 °C in the air in which it was lit, unloading HandlingH; if that
//     would end after the shift, unloading is done first thing in the next shift, and the
//     cold charge lies until the end of unloading in the air outside: for each whole hour
//     from the first that begins after cooling, stalk.State.Still with the temperature and
//     humidity of that hour and the exchange RewettingFactor · k(T) of package stalk; mould
//     lives in these hours. Unloaded stalks are graded into the store; what has no room
//     there lies on racks, closed up. (TestTwoChargesByHand, TestNightShift)
//  27. A dryer breaks when its fires have burned the hours its luck says, with one fire once, the next
//     time with a later one; that shows when the fire is out, the charge in it is dry, and the repair
//     counts from then; one that is out for the season, not yet ready (ReadyAfterDays), or away does
//     not work. (TestTroubledDryers, TestReadyLateAndLearning, TestMovedDryer)
//
// # The store and the road
//
//  28. What comes into the store at one instant makes one lot, moisture, present and highest
//     mould index, age and hours without growth the mean by stalks; all of it is of full
//     grade, and kept is the full share at its highest index. Lots that came in at other
//     instants never join it. Lots live from morning to morning in one step from when they
//     came in, in still air of the calendar day before and its mean temperature and humidity
//     (or Store.Humidity), by stalk.State.Still with the exchange of open or sealed stores,
//     and once more before a collection in the air of that day. (TestDampStore,
//     TestLotsOfTheStore)
//  29. A collection does not come while three days brought more than ClosedAboveMM; it tries
//     again the next day at 18. It does not come for fewer than MinimumStalks,
//     for an empty store or to a full hub; where it comes CollectionH is booked. Lots above
//     MoistureLimit go back on racks, closed up. Of the others those that are below 8 %
//     wet basis now and were not when they came in break as at storing (rule 10), once; they
//     are graded once more and leave in the order they came in, up to VehicleStalks and to what
//     the hub has room for (rule 34). Of the lot that does not fit whole goes what fits; the
//     rest of it stays a lot as old as it is, and those behind it wait ungraded.
//     (TestShutRoad, TestSmallVehicle, TestMinimumPickUp, TestGateMoisture)
//  30. At the gate round(stalks sent · accepted share) are accepted, with 1 − min(1, (1 −
//     AcceptedShare) · Refused) for the site's own luck of the season; they go to the hub.
//     (TestGateOfASite, TestADamperHubNeedsMoreStalks)
//  31. Hauling: at 14 a site sends batches not yet dry, in the order of rule 20, up to
//     HaulStalksPerDay to the site of HaulTo, where they are spread at 15. (TestHauling)
//
// # People's hours
//
//  32. Other work is booked when done: loading and unloading HandlingHPer1000 each, at
//     loading; tending the drying hours over max(1, TendsDryers), when the fire is out;
//     grading and bundling GradingHPer1000 once, for what is put to the grading on its way
//     into the store, from a rack or a dryer; looking stalks through LookingHPer1000, for what
//     is put to the grading before a charge and at a collection; sheets SheetHPer100M2 the
//     morning after rain or where they lie every night; spreading SpreadingHPer100M2 for the
//     rack on which stalks are laid, or spread again (rule 36), when they are; CollectionH a collection that comes; hauling
//     HaulHPer1000. (TestPeopleByHand, TestThinSpreadingCostsHands, TestCollectionByHand)
//
// # The hub
//
//  33. What a site brings to the hub with one collection makes one lot there: moisture, indices
//     and hours the mean by stalks, all of full grade. The opening stock lies there as that of
//     a site does (rule 6). Lots lie at the hub as in a store, in steps of a calendar day, the
//     first from when they came: stalk.State.Still with the day's mean temperature and
//     humidity (or Hub.Humidity, above 0) and the exchange of open or sealed stores. Where
//     sites have weathers of their own, the hub has that of the first site's. At the end of a
//     month each lot is graded: of a accepted stalks that were of full share f when they
//     arrived, round(a · min(share before, full share)/f) are good. The rest has spoiled; it
//     earns nothing. (TestStalksAtTheHubLiveAsInAStore)
//  34. The hub has room for Hub.StoreStalks good stalks (0 is endless), by cutters each site for its
//     share. A collection takes no more from a site than what, by the site's own accepted share,
//     fits beside what lies there; of sites collected on one day the first of the file comes
//     first, after those that haul to it. (TestAFullHub, TestAFullHubTakesTheFirst)
//  35. At a month's end what arrived in it less what was refused is added to the hub's stock, by month
//     of arrival; of the stock of each month of arrival, and of the opening stock, the same part spoils
//     as of all that arrived in that month, each left in whole stalks, rounded. The month takes what is
//     then there, the oldest first, at most what is asked. It is met when that is at least the contract
//     less its tolerance, rounded up, equality included. What is left over counts next month; what was
//     missing is lost. Only with Grace is it made good first in the next month.
//     (TestWhatSpoilsAtTheHubByHand, TestContractAtItsEdge, TestGrace)
//
// # Ways of spreading and cutting
//
//  36. With SpreadOverFreeRack room is counted as if all stalks lay at the full load of the day (rule
//     8): they are closed up where others need the place. At the end of a round, and of what is done at
//     any hour that lays stalks on a rack, its look for a charge included, all stalks of each kind of
//     rack come to lie at one load: the thinnest of full · (least/full)^(k/n), k = 0 … n, at which they
//     fit on its area, with least the smaller of the full load and LeastLoadingKgPerM2 (0: one layer)
//     and n = max(1, round(ln(full/least) / ln 1.15)). Batches that lie at another are spread again,
//     and keep their water: the film on a square metre becomes thinner as the load does, and what would
//     be more than FilmMM drips off. Where they fit at no such load, in a wet week that asks for a
//     thinner one, they stay as they lie. Loads go in steps so that stalks are not spread again for
//     less than about 15 %. (TestSpreadingByHand, TestFilmGoesWithTheStalks, TestRacksAreNeverOverfull,
//     TestThinnerDriesFasterAndNeverMouldsMore)
//  37. With CutWhatCanDry the room of a day is the fresh stalks that the free racks take, at most
//     WetKgPerM2 on the area of all racks, as stalks, and WetCharges full fresh charges of each
//     dryer that works, rounded down together, less the stalks in the yard that are wetter than
//     Target. A dryer that is not ready, known to be broken, out for the season or away does not
//     work. Nothing is cut into the heap; why stalks are not cut is the smaller of the two numbers,
//     the racks where they are equal. (TestCutWhatCanDryByHand, TestCutStopsAtWhatCanDry)
//
// # A season taken up on a day
//
//  38. With a Start the season begins at midnight before Start.Day, with its weather and luck by the day of
//     the whole season: days before are not lived through, and what months before asked is past. Of
//     the month at hand Delivered is no longer asked, and it is met by what the whole month's least
//     is more. What lies in the yard has lived in the weather since the noon of its cut, on the
//     kind of rack of which the site has most, with the moisture that is stated; what lies in stores and
//     at the hub lies there as opening stock does (rule 6). Dried stalks that wait in the dryers are
//     shared out among them and unloaded first in the shift. Nobody owes hours, and no fire burns.
//     What comes once comes dry and good: to the hub in the evening, and it keeps as the stock that
//     lay there does; to a store at 12. Taken up on the first day with the opening stock it is the
//     season as ever. (TestRandomRegionTakenUpOnItsFirstDayIsAsEver, TestTakenUpAgainGoesOn,
//     TestDeliveredThisMonth, TestStalksThatComeOnce, TestWaitingAndDown)
package sim
