BEGIN TRANSACTION;
CREATE TABLE blocks (
	id INTEGER NOT NULL, 
	sheet VARCHAR(40) NOT NULL, 
	"key" TEXT NOT NULL, 
	place INTEGER NOT NULL, 
	cells TEXT NOT NULL, 
	rows INTEGER NOT NULL, 
	first INTEGER NOT NULL, 
	last INTEGER, 
	PRIMARY KEY (id)
);
INSERT INTO "blocks" VALUES(1,'cultivars','Alvane',1,'Alvane,peach,yellow,free,750,no,yes,the main check
',1,1,NULL);
INSERT INTO "blocks" VALUES(2,'cultivars','Brintel',2,'Brintel,nectarine,white,cling,,yes,no,
',1,1,NULL);
INSERT INTO "blocks" VALUES(3,'cultivars','T 12-034',3,'T 12-034,peach,,semi-free,600,,,
',1,1,NULL);
INSERT INTO "blocks" VALUES(4,'sites','low',1,'low,Low field,39.5,station
',1,1,NULL);
INSERT INTO "blocks" VALUES(5,'sites','high',2,'high,High field,39.7,grower
',1,1,NULL);
INSERT INTO "blocks" VALUES(6,'samples','S1',1,'S1,Alvane,low,2023-07-01,1,8,6.5,10,
',1,1,NULL);
INSERT INTO "blocks" VALUES(7,'samples','S2',2,'S2,Alvane,high,2024-07-05,1,7,6,,some bruised
',1,1,NULL);
INSERT INTO "blocks" VALUES(8,'samples','S3',3,'S3,Brintel,low,2024-07-20,1,9,8,0,
',1,1,NULL);
INSERT INTO "blocks" VALUES(9,'samples','S4',4,'S4,T 12-034,low,2024-07-28,2,5,4,30,
',1,1,NULL);
INSERT INTO "blocks" VALUES(10,'fruit','S1',1,'S1,1,61.5,63,41,39,12.2
S1,2,62.5,64,42,40,13.2
S1,3,63.5,65,43,41,14.2
',3,1,2);
INSERT INTO "blocks" VALUES(11,'fruit','S2',2,'S2,1,61.5,63,41,39,12.2
S2,2,62.5,64,42,40,13.2
S2,3,63.5,65,43,41,14.2
',3,1,3);
INSERT INTO "blocks" VALUES(12,'fruit','S3',3,'S3,1,61.5,63,41,39,12.2
S3,2,62.5,64,42,40,13.2
S3,3,63.5,65,43,41,14.2
',3,1,NULL);
INSERT INTO "blocks" VALUES(13,'fruit','S4',4,'S4,1,61.5,63,41,39,12.2
S4,2,62.5,64,42,40,13.2
S4,3,63.5,65,43,41,14.2
',3,1,NULL);
INSERT INTO "blocks" VALUES(14,'bloom','["Alvane", "low", "2024"]',1,'Alvane,low,2024,2024-04-05
',1,1,NULL);
INSERT INTO "blocks" VALUES(15,'weather','["low", "2024-01-01", ""]',1,'low,2024-01-01,23,41
',1,1,NULL);
INSERT INTO "blocks" VALUES(16,'fruit','S1',1,'S1,1,70,63,41,39,12.2
S1,2,62.5,64,42,40,13.2
S1,3,63.5,65,43,41,14.2
S1,4,71,,,,
',4,2,NULL);
INSERT INTO "blocks" VALUES(17,'fruit','S2',2,'S2,1,72,63,41,39,12.2
S2,2,62.5,64,42,40,13.2
S2,3,63.5,65,43,41,14.2
',3,3,4);
INSERT INTO "blocks" VALUES(18,'fruit','S2',2,'S2,1,61.5,63,41,39,12.2
S2,2,62.5,64,42,40,13.2
S2,3,63.5,65,43,41,14.2
',3,4,NULL);
CREATE TABLE declared (
	first INTEGER NOT NULL, 
	items TEXT NOT NULL, 
	last INTEGER, 
	PRIMARY KEY (first)
);
INSERT INTO "declared" VALUES(1,'{"title": "Small trial", "region": "Nowhere", "invented": true, "tip_mm": 8.0, "temperature_compensated": true, "full_bloom_open_pct": 50.0, "ratings": {"shape": {"low": 0.0, "high": 10.0, "best": 10.0}, "fuzz": {"low": 0.0, "high": 10.0, "best": 10.0}, "red": {"low": 0.0, "high": 10.0, "best": 10.0}, "attractiveness": {"low": 0.0, "high": 10.0, "best": 10.0}}, "seasons": [2023, 2024]}',NULL);
CREATE TABLE headings (
	sheet VARCHAR(40) NOT NULL, 
	position INTEGER NOT NULL, 
	heading TEXT NOT NULL, 
	first INTEGER NOT NULL, 
	PRIMARY KEY (sheet, position)
);
INSERT INTO "headings" VALUES('cultivars',0,'cultivar',1);
INSERT INTO "headings" VALUES('cultivars',1,'fruit_type',1);
INSERT INTO "headings" VALUES('cultivars',2,'flesh_colour',1);
INSERT INTO "headings" VALUES('cultivars',3,'stone',1);
INSERT INTO "headings" VALUES('cultivars',4,'chill_requirement_h',1);
INSERT INTO "headings" VALUES('cultivars',5,'protected',1);
INSERT INTO "headings" VALUES('cultivars',6,'check',1);
INSERT INTO "headings" VALUES('cultivars',7,'note',1);
INSERT INTO "headings" VALUES('sites',0,'site',1);
INSERT INTO "headings" VALUES('sites',1,'name',1);
INSERT INTO "headings" VALUES('sites',2,'latitude_deg',1);
INSERT INTO "headings" VALUES('sites',3,'host',1);
INSERT INTO "headings" VALUES('samples',0,'sample',1);
INSERT INTO "headings" VALUES('samples',1,'cultivar',1);
INSERT INTO "headings" VALUES('samples',2,'site',1);
INSERT INTO "headings" VALUES('samples',3,'date',1);
INSERT INTO "headings" VALUES('samples',4,'pick',1);
INSERT INTO "headings" VALUES('samples',5,'shape',1);
INSERT INTO "headings" VALUES('samples',6,'red',1);
INSERT INTO "headings" VALUES('samples',7,'split_pit_pct',1);
INSERT INTO "headings" VALUES('samples',8,'note',1);
INSERT INTO "headings" VALUES('fruit',0,'sample',1);
INSERT INTO "headings" VALUES('fruit',1,'fruit',1);
INSERT INTO "headings" VALUES('fruit',2,'suture_mm',1);
INSERT INTO "headings" VALUES('fruit',3,'cross_mm',1);
INSERT INTO "headings" VALUES('fruit',4,'firmness_1_n',1);
INSERT INTO "headings" VALUES('fruit',5,'firmness_2_n',1);
INSERT INTO "headings" VALUES('fruit',6,'ssc_brix',1);
INSERT INTO "headings" VALUES('bloom',0,'cultivar',1);
INSERT INTO "headings" VALUES('bloom',1,'site',1);
INSERT INTO "headings" VALUES('bloom',2,'year',1);
INSERT INTO "headings" VALUES('bloom',3,'full_bloom',1);
INSERT INTO "headings" VALUES('weather',0,'site',1);
INSERT INTO "headings" VALUES('weather',1,'date',1);
INSERT INTO "headings" VALUES('weather',2,'tmin_f',1);
INSERT INTO "headings" VALUES('weather',3,'tmax_f',1);
CREATE TABLE imports (
	number INTEGER NOT NULL, 
	token VARCHAR(32) NOT NULL, 
	at VARCHAR(32) NOT NULL, 
	who TEXT NOT NULL, 
	file TEXT NOT NULL, 
	sha256 VARCHAR(64) NOT NULL, 
	new INTEGER NOT NULL, 
	changed INTEGER NOT NULL, 
	left_out INTEGER NOT NULL, 
	undoes INTEGER, 
	PRIMARY KEY (number)
);
INSERT INTO "imports" VALUES(1,'ae297a3a3bf24f2cb6456b3eb5256a41','2026-11-29T19:09:52Z','Ada','small','1a98a2bdd1068c61c53035a9eb999214955d1c5672371ec963103b5d9cfda7f3',23,0,0,NULL);
INSERT INTO "imports" VALUES(2,'4f9a383feaf34b338939787f1d9d7375','2026-11-29T19:09:53Z','Béla','week2','55f9ae0eec67dc21ae4c83fbfba954cee9389cc1b24fe7377be5f224080df9a2',1,1,0,NULL);
INSERT INTO "imports" VALUES(3,'e7cdf50b583d45bd8e051e4402a8ebac','2026-11-29T19:09:53Z','Béla','week3','d961dfcb6201e778fa435753d8245a974676b72a87cfc1e2288a7405cdc33471',0,1,0,NULL);
INSERT INTO "imports" VALUES(4,'689a6ebe7a6543bba16112d7ed51e953','2026-11-29T19:09:53Z','Cem','undo of 3','',0,1,0,3);
CREATE TABLE left_out (
	id INTEGER NOT NULL, 
	import INTEGER NOT NULL, 
	file TEXT NOT NULL, 
	sheet TEXT NOT NULL, 
	"row" TEXT NOT NULL, 
	"column" TEXT NOT NULL, 
	value TEXT NOT NULL, 
	rule TEXT NOT NULL, 
	suggestion TEXT NOT NULL, 
	whole_row TEXT NOT NULL, 
	PRIMARY KEY (id)
);
CREATE TABLE store (
	version INTEGER NOT NULL, 
	made VARCHAR(32) NOT NULL
);
INSERT INTO "store" VALUES(1,'e0403ed58ff341ab9ec8d0bc072f8afb');
CREATE UNIQUE INDEX standing ON blocks (sheet, "key") WHERE last IS NULL;
COMMIT;
