interface PublicationRecord {
  readonly citation: string;
  readonly url: string | null;
}

/** What was read, once. Citations name the publisher, the title or subject, and the year where it is known. */
export const PUBLICATIONS = {
  ndsuGuide: {
    citation: 'NDSU Extension A1133, Dry Bean Production Guide, Tables 6 and 7',
    url: 'https://studylib.net/doc/8853137/a1133-web-version.indd',
  },
  ndsuMinimumStands2002: {
    citation: 'NDSU Crop & Pest Report, 16 May 2002, "Minimum stands for crops"',
    url: 'https://www.ag.ndsu.edu/archive/entomology/ndsucpr/Years/2002/May/16/psci_16May02.htm',
  },
  ndsuSoybeanStands2010: {
    citation: 'NDSU Crop & Pest Report, 27 May 2010 and 20 May 2004, soybean minimum stands',
    url: 'https://www.ag.ndsu.edu/archive/entomology/ndsucpr/Years/2010/May/27/psci.htm',
  },
  ndsuPlantingDates2016: {
    citation: 'NDSU A1806 (2016), Impact of planting dates on dry edible bean',
    url: 'https://www.ag.ndsu.edu/publications/crops/impact-of-planting-dates-on-dry-edible-bean/',
  },
  ndsuPopulation2018: {
    citation: 'NDSU Carrington REC 2018, dry bean seed yield with row spacing and plant population',
    url: 'https://www.ag.ndsu.edu/greenhouse/carringtonrec/center-points/2018/a-research-update-on-dry-bean-seed-yield-with-row-spacing-and-plant-population',
  },
  ndsuPopulation2021: {
    citation: 'NDSU Crop & Pest Report, South-Central/SE ND, 20 May 2021, plant populations by dry bean class',
    url: 'https://www.ag.ndsu.edu/cpr/state/south-central-southeast-nd-05-20-21',
  },
  csidcIrrigated: {
    citation: 'AAFC-CSIDC, seeding rate and row spacing for irrigated dry bean (archived 2006)',
    url: 'https://bac-lac.wayback.archive-it.org/web/20061210084623/http:/agr.gc.ca/pfra/csidc/beansr_e.htm',
  },
  nebraskaProfile2001: {
    citation: 'Crop Profile for Dry Beans in Nebraska (2001)',
    url: 'http://www.ipmcenters.org/cropprofiles/docs/NEDryBean.html',
  },
  idahoQuickFacts: {
    citation: 'University of Idaho BUL 978, Quick Facts: Idaho Beans',
    url: 'https://uidaho.edu/extension/publications/bul/bul978',
  },
  wyomingTrial2016: {
    citation: 'University of Wyoming pinto trial as reported by the Wyoming Livestock Roundup, 2016',
    url: 'http://wylr.net/crops/290-dry-beans',
  },
  ndsuDensity2000: {
    citation: 'Schatz, Zwinger and Endres, NDSU Carrington, dry bean density trials 1999-2000',
    url: 'https://www.ag.ndsu.edu/archive/carringt/00data/2000%20Annual%20Report/dry_edible_bean.htm',
  },
  northarvest2007: {
    citation: 'Northarvest Bean Growers, 30 Mar 2007, planting rates',
    url: 'http://www.northarvestbean.org/html/news.cfm?ID=1170',
  },
  northarvest2006: {
    citation: 'Northarvest Bean Growers, 19 Jun 2006, dry bean growth types and stages',
    url: null,
  },
  ndsuStages2020: {
    citation: 'NDSU Crop & Pest Report, 17 Jun 2010 and 11 Jun 2020, dry bean growth types and stages',
    url: null,
  },
  ndsuHail2018: {
    citation: 'Kandel, NDSU Crop & Pest Report, 12 Jul 2018, hail damage in beans and sunflower',
    url: 'https://www.ag.ndsu.edu/cpr/plant-science/hail-damage-in-beans-and-sunflower-07-12-18',
  },
  ndsuCutworm2002: {
    citation: 'NDSU Crop & Pest Report (entomology), 9 May 2002, cutworm thresholds',
    url: 'https://www.ag.ndsu.edu/archive/entomology/ndsucpr/Years/2002/May/9/ent_9May02.htm',
  },
  ndsuStarter: {
    citation: 'NDSU starter-fertilizer trials on dry beans, reported by the Manitoba Co-operator',
    url: 'https://www.manitobacooperator.ca/news-opinion/news/bean-trials-respond-to-phosphorus-based-starter-fertilizer/',
  },
  msuPopulation2019: {
    citation: 'Michigan State University Extension 2019, population study on dry beans',
    url: 'https://www.canr.msu.edu/news/population-study-on-dry-beans',
  },
  msuMaggot2015: {
    citation: 'Michigan State University Extension 2015, seedcorn maggot in vegetables',
    url: 'https://vegetablegrowersnews.com/news/profile-of-seedcorn-maggot-in-vegetables/',
  },
  msuSoybeanStands: {
    citation: 'Michigan State University Extension, assessing soybean stands (after Conley & Gaska; Casteel)',
    url: null,
  },
  ontarioBeans: {
    citation: 'Ontario dry bean agronomy pages (OMAFRA staff, after Publication 811)',
    url: 'https://drybeanagronomy.ca/dealing-with-soil-crusting/',
  },
  ontarioFieldCrops: {
    citation: 'Ontario field crop news: maggots and slugs 2013, dry bean seasons 2016-2021, herbicide scenarios 2011',
    url: 'https://fieldcropnews.com/2013/06/bugs-versus-slugs/',
  },
  manitobaBeans: {
    citation: 'Manitoba Pulse & Soybean Growers: dry bean seeding, bean reports 2019-2025, soybean reseeding 2020',
    url: 'https://manitobapulse.ca/production/dry-bean-production/seeding',
  },
  saskPulse: {
    citation: 'Saskatchewan Pulse Growers, narrow-row dry bean production',
    url: 'https://saskpulse.com/resources/narrow-row-dry-bean-production/',
  },
  saskAgriculture: {
    citation: 'Saskatchewan Agriculture, narrow-row dry bean seeding considerations',
    url: null,
  },
  michiganInsurance2017: {
    citation: 'Michigan Bean Shippers and Michigan Bean Commission, 28 Jun 2017 (insurance dates)',
    url: 'http://michag.com/home/news/michigan-bean-shippers-and-michigan-bean-commission-news-release.html',
  },
  sdsuReplanting: {
    citation: 'SDSU (Berg & Kleinjan), replanting soybeans: a clouded decision',
    url: 'http://igrow.org/agronomy/soybeans/replanting-soybeans-a-clouded-decision/',
  },
  virginiaStand: {
    citation: 'Virginia Tech (Holshouser), stand and gap procedure, soybean replant advice',
    url: 'https://blogs.ext.vt.edu/ag-pest-advisory/tag/stand',
  },
  iowaReplant1999: {
    citation: 'Iowa State University ICM, 24 May 1999, soybean replant issues; ICM News, Jun 2008',
    url: 'http://www.ipm.iastate.edu/ipm/icm/1999/5-24-1999/soyreplant.html',
  },
  iowaCorn2009: {
    citation: 'Iowa State University Extension, 13 May 2009 and 23 May 2006, corn stand by date and replant cost',
    url: 'http://www.extension.iastate.edu/Pages/eccrops/jfcu090513.html',
  },
  minnesotaSoybean: {
    citation: 'University of Minnesota Extension: soybean hail, damage and replant; planting dates (2013)',
    url: 'https://extension.umn.edu/growing-soybean/hail-damage-soybean-crops',
  },
  pennStateReplant: {
    citation: 'Penn State Extension, soybean and corn replanting decisions 2012-2019',
    url: 'https://sites.psu.edu/38cmeg/2019/05/20/soybean-replanting-decisions',
  },
  illinoisReplant2009: {
    citation: 'University of Illinois Bulletin No. 11, 5 Jun 2009, replanting soybean is no easy decision',
    url: 'http://bulletin.ipm.illinois.edu/article.php?id=1143',
  },
  ohioReplant: {
    citation: 'OSU Extension Van Wert County (Young), soybean replant decisions',
    url: 'http://www.timesbulletin.com/Content/News/News/Article/Soybean-replant-decisions/2/4/188338',
  },
  unlHail2023: {
    citation: 'UNL CropWatch 2023, hail in reproductive soybean',
    url: 'https://cropwatch.unl.edu/2023/hail-damage-soybean-reproductive-stages-and-options',
  },
  kansasHail: {
    citation: 'Kansas State eUpdate, hail on soybeans',
    url: 'https://eupdate.agronomy.ksu.edu/eu_article_prep.php?article_id=249',
  },
  weinlaeder2007: {
    citation:
      'Weinlaeder, Johnson and Zarnstorff, ASA-CSSA abstracts 2007 and 2008, dry bean stand loss and defoliation',
    url: 'https://crops.confex.com/crops/2007am/techprogram/P37468.HTM',
  },
  westermann1977: {
    citation: 'Westermann and Crothers 1977, Crop Science 17:493-496',
    url: 'https://eprints.nwisrl.ars.usda.gov/id/eprint/320/',
  },
  bisognin2019: {
    citation: 'Bisognin et al. 2019, Pesq. Agropec. Trop., seed spacing variability reduces common bean yield',
    url: 'http://scielo.br/scielo.php?lang=pt&pid=S1983-40632019000100209&script=sci_arttext',
  },
  nielsen2004: {
    citation: 'Nielsen (Purdue) 2004, plant spacing variability in corn',
    url: 'http://www.kingcorn.org/research/psv/Update2004.html',
  },
  harringtonMinges1954: {
    citation: "Harrington and Minges 1954, days to emergence of snap bean, by way of Knott's Handbook",
    url: 'https://issuhub.com/view/index?id=3972&pageIndex=132',
  },
  cropgroDryBean: {
    citation: 'CROPGRO dry bean species and ecotype files BNGRO048, cardinal temperatures and planting to emergence',
    url: null,
  },
  germinationMetrics: {
    citation: 'germinationmetrics (ICAR-NBPGR, R package), worked set for t50, mean time and Hill fit',
    url: null,
  },
  meyerBadaruddin2001: {
    citation: 'Meyer and Badaruddin 2001, Crop Science 41:1838-1842, frost tolerance of legume seedlings',
    url: 'https://peeref.com/works/73436973',
  },
  questionablePlants: {
    citation: 'Seed-company agronomy notes on soybean stands (questionable plants count one half)',
    url: 'https://www.pioneer.com/us/agronomy/stand-establish-seed-rate-heartland.html',
  },
  isuSkipsDoubles: {
    citation: 'Iowa State University PM 1851 as summarised by a seed company: gaps, skips and doubles',
    url: 'https://www.goldenharvestseeds.com/agronomy/articles/soybean-stand-count-chart',
  },
  wisconsinMaggot2018: {
    citation: 'UW-Madison IPCM (Jensen) 2016-2019, seedcorn maggot and insects affecting plant stands',
    url: 'https://ipcm.wisc.edu/blog/2018/05/seedcorn-maggot/',
  },
  iowaHerbicide2017: {
    citation:
      'Iowa State University 2017, evaluating herbicide injury on soybean; Montana State herbicide injury guide',
    url: 'http://crops.extension.iastate.edu/cropnews/2017/05/evaluating-herbicide-injury-soybean',
  },
  rootRots: {
    citation: 'Root rots of beans: PNW Handbook, UC IPM, NC State VDIN-007 and NDSU text',
    url: 'https://pnwhandbooks.org/plantdisease/host-disease/bean-snap-phaseolus-vulgaris-fusarium-root-rot',
  },
  csuBeans: {
    citation: 'Colorado State University Fact Sheet 0.539 (Davis & Brick), beans and salinity',
    url: null,
  },
  marylandSlugs: {
    citation: 'University of Maryland Extension, slugs; Kentucky field visit notes (deer, vole, slug)',
    url: 'https://extension.umd.edu/resource/slug-damage-soybeans-do-cover-crops-help-or-hurt',
  },
  imbibition: {
    citation: 'Imbibition: Ankara University 1996 (white against red seed coat); Iowa State, imbibitional chilling',
    url: null,
  },
  ndsuSoybeanGaps2011: {
    citation: 'NDSU in the farm press 2011, evaluating soybean plant stands',
    url: null,
  },
  entomologySampling: {
    citation: "ICAR e-course, entomology: number of samples, N = (t s / d m)^2 and with Taylor's power law",
    url: 'http://ecoursesonline.iasri.res.in/mod/page/view.php?id=16665',
  },
  finitePilot: {
    citation: 'R package silviculture, number of plots after a pilot: n >= t^2 CV^2 / (d^2 + t^2 CV^2 / N)',
    url: null,
  },
  taylor1961: { citation: 'Taylor 1961, aggregation, variance and the mean, Nature 189:732-735', url: null },
  fisher1925: {
    citation: 'Fisher 1925, Statistical Methods for Research Workers, section 19 (index of dispersion)',
    url: null,
  },
} as const satisfies Readonly<Record<string, PublicationRecord>>;

export type Publication = keyof typeof PUBLICATIONS;
