"""Names for an invented school: common given and family names of many origins, mixed by chance."""

import numpy as np

_GIVEN_TEXT = (
    "Aarav Abena Adaeze Aiko Aisha Alma Amara Amina Anneli Anouk Ansel Anya Arjun Aroha Astrid "
    "Ayo Beatriz Bilal Bjarne Bogdan Bronwyn Callum Carys Catarina Cheng Chidi Chloe Cleo Dalia "
    "Danuta Darius Davit Delphine Dina Eero Efua Elif Eliska Emeka Emrys Ester Etienne Eun Farah "
    "Fatou Femi Fenna Fergus Freya Gaia Gareth Giulia Grete Gwen Hamza Hana Haruto Hedda Hinemoa "
    "Hugo Ibrahim Idris Ilse Imani Ines Ingrid Isandro Ivo Jamila Jasper Joana Jun Kaia Kalani "
    "Kamal Karim Kasper Keiko Kenji Kofi Lars Leila Leto Linh Liv Lorcan Luka Lupe Maeve Mahina "
    "Malik Mara Marek Mateo Mei Mila Minh Miro Nadia Naoki Nasrin Neve Nia Nikau Nils Noor Nuno "
    "Oda Olamide Orla Oskar Otis Paloma Pavel Petra Priya Quyen Rafa Rania Ravi Rhys Rosa Rumi "
    "Runa Sami Sanna Selma Sina Siobhan Soren Sunniva Tala Tamsin Tariq Tevita Thandi Tiago Tomas "
    "Tove Uma Veda Viggo Wanjiru Wiremu Xiomara Yara Yusuf Zahra Zanele Zofia Zuri"
)
_FAMILY_TEXT = (
    "Abara Achterberg Adeyemi Afolabi Alder Almeida Amadi Anand Aoki Arslan Asante Baird Bakker "
    "Banerjee Barros Beck Benali Bergstrom Bhatt Birch Boateng Bondi Braga Brandt Brennan Byrne "
    "Calder Cardoso Castellan Chaudhry Cisse Corvin Dabrow Dahl Danso Darzi Delacroix Demir Diallo "
    "Dogan Drummond Duarte Eastwood Eide Ekwueme Elmasry Engstrom Esposito Farrow Fekete Ferreira "
    "Fonoti Fontaine Fraser Gallo Georgiou Ghosh Gomes Grantham Haddad Halvorsen Hashimi Hazel "
    "Henare Hoang Holm Horvat Ibarra Ikeda Ilves Ivanko Jansen Jerez Joshi Kahananui Kamara Kapoor "
    "Kassab Kerr Khoury Kimura Kowal Kruger Laine Larkin Lehto Lindqvist Lopes Lund Mahuta Malone "
    "Marchetti Mbeki Mensah Mikkelsen Mistry Moreau Mori Naidoo Nakata Ndiaye Nguyet Novak Nwosu "
    "Oduya Okafor Olander Onyango Orsini Osman Paredes Pasquale Patil Pereira Quist Rahimi Rangi "
    "Renner Rocha Rossiter Sadler Saito Santoro Sefo Sharif Silveira Sorensen Stojan Suzuki Takala "
    "Tamati Tan Tavares Thorne Tranholm Turay Ueda Valdano Vance Varga Verhoeven Vidal Wafula "
    "Walcott Weka Winther Yamane Yildiz Zaman Zielin"
)
_GIVEN, _FAMILY = _GIVEN_TEXT.split(), _FAMILY_TEXT.split()


def draw_names(count: int, rng: np.random.Generator) -> list[tuple[str, str]]:
    """`count` different (given, family) pairs; at most len(given) * len(family) exist."""
    picks = rng.choice(len(_GIVEN) * len(_FAMILY), size=count, replace=False)
    return [(_GIVEN[one % len(_GIVEN)], _FAMILY[one // len(_GIVEN)]) for one in picks.tolist()]
