## Cambiarlo o esperar. Necesita la revisión de una persona de habla nativa.

decision-title = ¿Cambiarlo o esperar?
decision-lead = Todo tanque termina por gotear. Esta página pone las probabilidades y el dinero lado a lado. Usted decide.
decision-open-first = Primero abra su casa. Entonces esta página puede comparar el dinero para su propio calentador.
decision-open = Abrir mi casa
decision-answer = Cuéntenos más sobre su calentador
decision-refused-no-age = Sin una edad no hay respuesta. La placa de datos del calentador tiene una fecha. Díganos esa fecha y vuelva.
decision-refused-no-tank = Usted tiene un calentador sin tanque. No hay tanque que pueda gotear. Esta página no tiene respuesta para él.
decision-refused-no-lives = Todavía no hay con qué calcular. Vuelva cuando la encuesta conozca su casa.
decision-leak-first = Su registro dice que hay agua sobre el calentador o debajo de él. Primero averigüe de dónde viene. Un tanque que gotea por su pared ya terminó: ninguna cuenta de esta página lo salva.

decision-verdict-take = Acepte el precio
decision-verdict-replace = Cámbielo por su cuenta
decision-verdict-your-call = Usted decide
decision-verdict-wait = Espere

decision-says-take = **El dinero dice: acepte el precio de { $buy }.** En { $share } de 100 casos eso cuesta menos que esperar.
decision-says-replace = **El dinero dice: cámbielo ahora, por su cuenta, por { $buy }.** En { $share } de 100 casos eso cuesta menos que esperar.
decision-says-your-call = **El dinero no lo resuelve: usted decide.** En { $share } de 100 casos cuesta menos cambiarlo ahora por { $buy }. En los demás cuesta menos esperar.
decision-says-wait = **El dinero dice: espere.** En { $share } de 100 casos eso cuesta menos que cambiarlo ahora por { $buy }.
decision-says-average = El promedio dice lo contrario: en unos pocos casos la diferencia es grande.
decision-share = unos { $n }
decision-share-over = más de { $n }
decision-share-under = menos de { $n }
decision-gap-lower = El precio de { $offer } es { $usd } menor que su propio precio de { $own }.
decision-gap-dearer = El precio de { $offer } es { $usd } mayor que su propio precio de { $own }. Por eso nunca conviene aceptarlo: por su cuenta cuesta menos.
decision-gap-none = El precio de { $offer } es igual al suyo.
decision-take-up-to = Sería así hasta un precio de unos { $usd }.
decision-take-up-to-own = Sería así hasta su propio precio.
decision-take-below = Un precio para ahora de menos de unos { $usd } sería para aceptarlo.
decision-take-none = Ningún precio para ahora cambiaría eso.
decision-cases = Nadie sabe con certeza cuánto duran los calentadores aquí. Por eso probamos muchas respuestas probables. Cada una es un caso.

decision-ways-head = Cuánto cuesta cada camino en { $years } años
decision-ways-least = cuesta menos
decision-way-offer = Aceptar el precio de { $usd }
decision-way-own = Cambiarlo ahora por su cuenta, por { $usd }
decision-way-wait = Esperar todo el tiempo que convenga
decision-way-likely = probablemente entre { $low } y { $high }
decision-way-sure = igual en casi todos los casos
decision-way-a-year = Esperar solo un año cuesta unos { $usd } ({ $range }).
decision-way-until-it-fails = Esperar hasta que falle cuesta unos { $usd } ({ $range }).
decision-ways-note = Son promedios. Su propia cuenta puede estar lejos de ellos.
decision-ways-help = Cada camino se cuenta en { $years } años, en dólares de hoy. Incluye lo que usted paga, lo que cuestan las fallas según su probabilidad y el desgaste del calentador que haya al final. "Probablemente" quiere decir 90 de 100 casos. Un caso caro es caro para todos los caminos; por eso los rangos pueden tocarse aunque un camino sea el más barato.

decision-chance = De 100 calentadores como el suyo, unos { $mean } fallan en los próximos 12 meses. Pueden ser solo { $low } o hasta { $high }.
decision-chance-sure = De 100 calentadores como el suyo, unos { $mean } fallan en los próximos 12 meses.
decision-average = El promedio aquí es de unos { $average } de 100.

decision-neutral-head = Solo por el dinero
decision-personal-head = Según cómo se siente usted con el riesgo
decision-verdict-line = **{ $verdict }.**
decision-gain-now = Cambiarlo ahora por { $buy } ahorra unos { $usd } en promedio. Eso es frente a esperar todo el tiempo que convenga.
decision-gain-wait = Esperar todo el tiempo que convenga ahorra unos { $usd } en promedio. Eso es frente a cambiarlo ahora por { $buy }.
decision-gain-range = En 90 de 100 casos, la ganancia de cambiarlo ahora está entre { $low } y { $high }. Un signo menos quiere decir que esperar es más barato.
decision-gain-sure = Es igual en casi todos los casos.
decision-offer-age = El precio conviene desde una edad de unos { $age } años.
decision-offer-age-never = Hasta los { $age } años de edad el precio no conviene.
decision-age = A su propio precio, la mejor edad para cambiarlo es de unos { $age } años. Puede ser de { $low } a { $high }.
decision-age-sure = A su propio precio, la mejor edad para cambiarlo es de unos { $age } años.
decision-age-open = A su propio precio, la mejor edad para cambiarlo es de unos { $age } años. Puede ser { $low }, o más tarde, o nunca.
decision-age-never = A su propio precio, no hay una edad que sea mejor que esperar hasta que falle.
decision-age-far = A su propio precio, ninguna edad hasta los { $age } años es mejor que esperar hasta que falle.
decision-failure = Una falla cuesta unos { $usd }, con el calentador nuevo incluido.
decision-felt-little = Como usted lo siente, hay poca diferencia entre ahora y más tarde.
decision-felt-now = Cambiarlo ahora es para usted como ganar unos { $usd }.
decision-felt-now-much = Cambiarlo ahora es para usted como ganar más que el precio de un calentador nuevo.
decision-felt-wait = Esperar es para usted como ganar unos { $usd }.
decision-felt-wait-much = Esperar es para usted como ganar más que el precio de un calentador nuevo.
decision-personal-none = Conteste la pregunta sobre el riesgo en "Sobre su casa". Entonces su propia respuesta estará aquí.
decision-personal-same = Para usted, un dólar en riesgo vale como cualquier otro. Por eso su respuesta es la misma.
decision-personal-how = Usted pagaría unos { $pay } para librarse de una probabilidad de una en diez de una cuenta de { $bill }. Lo que una falla cuesta además del calentador nuevo es de unos { $extra } en promedio. Para usted pesa unas { $times } veces eso.
decision-personal-how-much = Usted pagaría unos { $pay } para librarse de una probabilidad de una en diez de una cuenta de { $bill }. Lo que una falla cuesta además del calentador nuevo es de unos { $extra } en promedio. Para usted pesa más de { $times } veces eso.

decision-catch-head = Qué podría detener el agua
decision-catch-help = A menudo es más barato detener el agua que cambiar el calentador. Cada línea dice qué cambiaría. Lo que ahorra es el camino más barato sin eso menos el camino más barato con eso. Una bandeja con desagüe no está en la lista: nadie puede ponerla bajo un tanque que ya está de pie. Va con el próximo calentador. La bandeja que ya está sí cuenta. El precio de un calentador nuevo aquí no cuenta lo que ahorra su bandeja.
decision-catch-none = Usted ya tiene lo mejor de lo que podemos comparar. Nada de aquí bajaría más el daño.
decision-table-what = Lo que tiene o agrega
decision-table-failure = Entonces una falla cuesta
decision-table-neutral = Solo por el dinero
decision-table-personal = Su propia respuesta
decision-table-worth = Ahorra en { $years } años, ya pagado su precio
decision-row-as-is = Como está ahora
decision-row-alarm = Agregar una alarma de fugas en el piso
decision-row-alarm-shutoff = Agregar una alarma y un cierre automático
decision-row-price = { $what } ({ $usd })
decision-row-nothing = –
decision-row-ways = En { $years } años: unos { $now } si lo cambia ahora por { $buy }, unos { $wait } si espera.
decision-details-head = Todas las cifras

decision-household-head = Sobre su casa
decision-place-unknown = No sabemos dónde está su calentador. Por eso cada tipo de lugar cuenta un tercio: garaje, sótano, interior. Díganos dónde está, y la respuesta mejora.
decision-drained = ¿La bandeja debajo del calentador tiene un tubo a un desagüe?
decision-insured = ¿Su póliza paga el daño repentino por agua?
decision-insured-help = El daño por edad y óxido muchas veces no se paga. El daño repentino por agua muchas veces sí. Depende de su póliza: pregunte a su aseguradora antes de que pase. "No sé" cuenta como no.
decision-if-insured = Si su póliza sí paga, la respuesta solo por el dinero es: { $verdict }.
decision-days-empty = Días al año en que no hay nadie en casa
decision-days-empty-help = Una fuga que nadie ve hace más daño. Una alarma que nadie oye no sirve.
decision-yes = Sí
decision-no = No
decision-not-sure = No sé

decision-risk = Este año puede llegar una cuenta de { $bill }. La probabilidad es de 1 en 10. ¿Cuánto pagaría usted, como máximo, para librarse de ese riesgo?
decision-risk-neutral = { $usd }: ese es el promedio, y nada más
decision-risk-high = Unos { $usd }
decision-risk-middle = Unos { $usd }
decision-risk-low = Unos { $usd }, o más
decision-risk-skip = Prefiero no decirlo

decision-own = Su propio precio por un calentador nuevo, en dólares
decision-own-help = Un trabajo completo, planeado con tiempo, sin nadie más. Ponga un precio que tenga por escrito.
decision-offer = Precio de grupo por un calentador nuevo ahora, en dólares
decision-offer-help = El precio completo para su casa, con permiso, retiro del viejo e impuestos. Déjelo vacío si no hay.
decision-offer-on-file = { $usd } es el precio anotado para su casa, de "Comprar juntos".
decision-other-kind = Los precios son para el tipo que usted pidió: { $kind }.
decision-typed = Lo que usted pone aquí dura esta visita. No se guarda. Nadie más lo ve.

decision-amounts-head = Las cantidades: cambie lo que usted sabe mejor
decision-amounts-help = Lo que cambia aquí cambia su respuesta.
decision-amount-range = Rango usual: { $low } a { $high }.
decision-amount-planned-price-usd = Calentador nuevo planeado, todo incluido, en dólares
    .from = La lista de precios de la comunidad, o la cifra nacional.
decision-amount-emergency-premium-usd = Más por un trabajo urgente, en dólares
    .from = Un ejemplo, sin fuente. Una llamada urgente cuesta más. Pregunte a un contratista y ponga la cantidad.
decision-amount-leak-share = De 100 calentadores que fallan, cuántos gotean
    .from = Cálculo nuestro, sin fuente. De 100 reclamos de seguros por calentadores, 69 eran fugas (IBHS, cerca de 2007 a 2010, como lo citan las aseguradoras). Quien solo se queda sin agua caliente no reclama; por eso pueden ser menos.
decision-amount-damage-chance-garage = De 100 fugas en un garaje o afuera, cuántas hacen daño
    .from = Un ejemplo, sin fuente. Ponga lo que usted piensa.
decision-amount-damage-usd-garage = Daño de una fuga así (garaje o afuera), en dólares
    .from = Un ejemplo, sin fuente. Ponga lo que usted piensa.
decision-amount-damage-chance-basement = De 100 fugas en un sótano, cuántas hacen daño
    .from = Un ejemplo, sin fuente. Ponga lo que usted piensa.
decision-amount-damage-usd-basement = Daño de una fuga así (sótano), en dólares
    .from = Un ejemplo, sin fuente. Ponga lo que usted piensa.
decision-amount-damage-chance-inside = De 100 fugas dentro de la casa, cuántas hacen daño
    .from = Un ejemplo, sin fuente. Dentro quiere decir un clóset, un piso alto o un ático.
decision-amount-damage-usd-inside = Daño de una fuga así (dentro), en dólares
    .from = Un ejemplo, sin fuente. Para comparar: las aseguradoras pagaron en promedio $4,444 por un calentador que falló, después del deducible (IBHS, cerca de 2005 a 2009, dólares viejos). Pagaron $11,098 por daño de agua de todo tipo (Insurance Information Institute, 2015 a 2019).
decision-amount-away-damage-factor = Cuántas veces peor es cuando no hay nadie
    .from = Un ejemplo, sin fuente. Ponga lo que usted piensa.
decision-amount-factor-pan = De $100 de daño, lo que queda con una bandeja sin desagüe
    .from = Un ejemplo, sin fuente. Una bandeja así guarda pocos galones.
decision-amount-factor-alarm = De $100 de daño, lo que queda con solo una alarma
    .from = Un ejemplo, sin fuente.
decision-amount-factor-pan-drain = De $100 de daño, lo que queda con bandeja y desagüe
    .from = Cálculo nuestro, sin fuente. No encontramos ningún ensayo.
decision-amount-factor-pan-drain-alarm = De $100 de daño, lo que queda con bandeja, desagüe y alarma
    .from = Cálculo nuestro, sin fuente. No encontramos ningún ensayo.
decision-amount-factor-shutoff = De $100 de daño, lo que queda con un cierre automático
    .from = Cálculo nuestro. La prueba es débil. Una aseguradora dijo en 2011 que hasta 93 de 100 dólares se podían evitar o reducir. Era su propio cálculo.
decision-amount-alarm-price-usd = Precio de una alarma de fugas, en dólares
    .from = Un ejemplo, sin fuente.
decision-amount-shutoff-price-usd = Precio de un cierre automático, instalado, en dólares
    .from = Un ejemplo, sin fuente.
decision-amount-mitigation-lasts-years = Años que dura una cosa así
    .from = Un ejemplo, sin fuente.
decision-amount-discount-rate = Cuánto menos vale hoy el dinero de dentro de un año, en por ciento
    .from = Un ejemplo. Una herramienta del Departamento de Energía de los Estados Unidos usa 3.2 por ciento.
decision-amount-deductible-usd = Su deducible, en dólares
    .from = Un ejemplo, sin fuente. Su póliza dice cuánto es.

decision-rests-head = En qué se basa esto
decision-rests-local = Cuánto duran los calentadores: respuestas de este vecindario, con { $failures ->
    [one] un calentador que terminó
   *[other] { $failures } calentadores que terminaron
 }, y datos publicados. De lo que se sabe de la vida típica, unas { $weight } de 100 partes vienen de aquí.
decision-rests-prior = Cuánto duran los calentadores: solo datos publicados. Todavía hay muy pocas respuestas aquí.
decision-rests-age = La edad: de { $low } a { $high } años, en promedio.
decision-rests-age-sure = La edad: { $age } años.
decision-rests-inputs = Todas las cantidades de dinero: las de partida o las que usted puso. Cada una dice de dónde viene.
decision-rests-later = Un precio de grupo vale solo ahora. Quien espera paga más tarde su propio precio, o el de una falla. La espera es de al menos un año.
decision-rests-rule = "Acepte el precio" o "cámbielo por su cuenta" quiere decir que ahora es más barato en al menos 80 de 100 casos. "Espere" quiere decir en 20 o menos. El promedio debe decir lo mismo. Todo lo demás lo decide usted.
decision-not-head = Lo que no está incluido
decision-not-modeled =
    Lo que un calentador nuevo puede ahorrar en energía.
    Lo que las nuevas reglas de construcción pueden pedir cuando se cambia un calentador.
    La seguridad. El olor a gas o una válvula de alivio que se abrió nunca es cuestión de dinero.
    Las duchas frías, los días perdidos y la preocupación.
    Los precios que suben más rápido de lo que el dinero pierde valor.
    Lo que un lavado o un ánodo nuevo agrega a la vida: eso no está probado.
